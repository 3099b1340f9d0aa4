/** A process of pages on the live feed that only count bytes. Arguments: URL, pages. */
import { WebSocket } from 'ws';

const [url, pages] = [process.argv[2]!, Number(process.argv[3])];
let bytes = 0;
let open = 0;
if (pages === 0) process.stdout.write('ready\n');
// Where no page keeps it alive, it waits for its end all the same.
setInterval(() => {}, 60_000);
for (let n = 0; n < pages; n++) {
  const socket = new WebSocket(url, { perMessageDeflate: false });
  socket.on('message', (data: Buffer) => {
    bytes += data.length;
  });
  socket.on('open', () => {
    if (++open === pages) process.stdout.write('ready\n');
  });
}
process.on('SIGTERM', () => {
  process.stdout.write(`${bytes}\n`, () => process.exit());
});
