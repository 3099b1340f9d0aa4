/**
 * A process of many sensors that publish blocks of an arc as fast as they are taken: QoS 1, frames
 * made by hand so that the sender costs as little as may be. One JSON line of orders on stdin.
 */
import { connect, type Socket } from 'node:net';
import { encodeMessage } from '../../../shared/protocol/messages.ts';

export interface Orders {
  port: number;
  blocks: number;
  sensors: { username: string; password: string; name: string }[];
}

const frames = 1024;
const rateHz = 10_240;
/** Unacknowledged packets of one sensor; a link of the real one has as many. */
const window = 16;
/** Blocks of an arc, and of quiet after it. */
const arcBlocks = 50;
const pauseBlocks = 10;

const text = (word: string) => {
  const bytes = Buffer.from(word);
  return Buffer.concat([Buffer.from([bytes.length >> 8, bytes.length & 255]), bytes]);
};

function packet(type: number, ...parts: Uint8Array[]): Buffer {
  const body = Buffer.concat(parts);
  const head = [type];
  for (let rest = body.length; ; rest >>= 7) {
    head.push((rest & 127) | (rest > 127 ? 128 : 0));
    if (rest < 128) break;
  }
  return Buffer.concat([Buffer.from(head), body]);
}

/** 60 Hz and a current that comes and goes; 32-bit counts, so that a block is 8 kB. */
function block(at: number, amps: number): Int32Array {
  const data = new Int32Array(2 * frames);
  for (let n = 0; n < frames; n++) {
    const angle = (2 * Math.PI * 60 * (at * frames + n)) / rateHz;
    const flicker = 1 + 0.2 * Math.sin(angle / 3.7);
    data[2 * n] = 170_000 * Math.sin(angle) - amps * 300 * Math.sin(angle);
    data[2 * n + 1] = amps * 1414 * flicker * Math.sin(angle - 0.3);
  }
  return data;
}

class Sender {
  readonly #socket: Socket;
  readonly #orders: Orders;
  readonly #topic: Buffer;
  #sent = 0;
  #acked = 0;
  readonly done: Promise<void>;

  constructor(orders: Orders, at: number, ready: () => void) {
    const { username, password, name } = orders.sensors[at]!;
    this.#orders = orders;
    this.#topic = text(`stiffline/v1/bench/${name}/wave`);
    this.#socket = connect({ port: orders.port, host: '127.0.0.1', noDelay: true });
    const flags = Buffer.from([4, 0xc2, 0, 60]);
    this.#socket.write(
      packet(0x10, text('MQTT'), flags, text(name), text(username), text(password)),
    );
    const about = encodeMessage('about', {
      ...{ v: 1, boot: 1, name, pairs: 1, rate: rateHz, bits: 24, scale: [0.001, 0.001] },
      ...{ at: 'machine', fw: 'bench', site: 'bench' },
    });
    this.#socket.write(packet(0x30, text(`stiffline/v1/bench/${name}/about`), about));
    let greeted = false;
    this.done = new Promise((resolve, reject) => {
      this.#socket.on('error', reject);
      this.#socket.on('data', (chunk) => {
        if (!greeted) {
          greeted = true;
          if (chunk[3] !== 0) reject(new Error(`refused: ${chunk[3]}`));
          ready();
          chunk = chunk.subarray(4);
        }
        // All that comes back is PUBACKs of four bytes.
        this.#acked += chunk.length / 4;
        this.pump();
        if (this.#acked >= orders.blocks) resolve();
      });
    });
  }

  pump(): void {
    if (!go) return;
    while (this.#sent < this.#orders.blocks && this.#sent - this.#acked < window) {
      const seq = ++this.#sent;
      const payload = payloads[seq]!;
      const id = Buffer.from([(seq >> 8) & 127, seq & 255 || 1]);
      this.#socket.write(packet(0x32, this.#topic, id, payload));
    }
  }

  end(): void {
    this.#socket.end();
  }
}

let go = false;
const payloads: Uint8Array[] = [];

process.stdin.once('data', async (line) => {
  const orders = JSON.parse(String(line)) as Orders;
  for (let seq = 1; seq <= orders.blocks; seq++) {
    const burns = seq % (arcBlocks + pauseBlocks) >= pauseBlocks;
    const first = (seq - 1) * frames;
    payloads[seq] = encodeMessage('wave', {
      ...{ v: 1, boot: 1, seq, first, time: 1e15 + Math.round((first * 1e6) / rateHz) },
      ...{ n: frames, lost: 0, flags: 0, data: block(seq, burns ? 20 : 0) },
    });
  }
  let waiting = orders.sensors.length;
  const senders = orders.sensors.map(
    (_, at) =>
      new Sender(orders, at, () => {
        if (--waiting > 0) return;
        process.stdout.write('ready\n');
        process.stdin.once('data', () => {
          go = true;
          for (const sender of senders) sender.pump();
        });
      }),
  );
  await Promise.all(senders.map((sender) => sender.done));
  process.stdout.write('sent\n');
  process.stdin.once('end', () => {
    for (const sender of senders) sender.end();
    process.exit();
  });
});
