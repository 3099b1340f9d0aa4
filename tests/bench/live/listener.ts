/**
 * A page's share of the live feed in a process of its own, with the page's own decoders. Argument:
 * URL. A line on stdout for each arc's news: what it was, the sensor, when it came and when the arc
 * began by what it says, in epoch milliseconds.
 */
import { WebSocket } from 'ws';
import type { LiveMessage } from '../../../shared/protocol/live.ts';
import { decodeRows } from '../../../shared/protocol/live-rows.ts';

const socket = new WebSocket(process.argv[2]!, { perMessageDeflate: false });
socket.binaryType = 'arraybuffer';
/** Sensors whose arc has been flagged already. */
const flagged = new Set<string>();

function news(what: string, sensor: string, startedAt: string): void {
  const nowMs = performance.timeOrigin + performance.now();
  process.stdout.write(`${what} ${sensor} ${nowMs} ${Date.parse(startedAt)}\n`);
}

socket.on('message', (data: ArrayBuffer | string, binary: boolean) => {
  if (binary) {
    decodeRows(data as ArrayBuffer);
    return;
  }
  const message = JSON.parse(Buffer.from(data as ArrayBuffer).toString()) as LiveMessage;
  if (message.kind === 'arc-began') {
    flagged.delete(message.sensor);
    news('began', message.sensor, message.openArc.startedAt);
  } else if (message.kind === 'arc-goes-on' && message.verdict === 'underpowered') {
    if (!flagged.has(message.sensor)) news('flagged', message.sensor, message.openArc.startedAt);
    flagged.add(message.sensor);
  } else if (message.kind === 'arc-ended')
    news('stored', message.sensor, message.summary.startedAt);
});
socket.on('open', () => process.stdout.write('ready\n'));
