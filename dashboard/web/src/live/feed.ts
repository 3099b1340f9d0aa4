import type { LiveMessage } from '../../../../shared/protocol/live.ts';
import { livePath, staleMs } from '../../../../shared/protocol/live.ts';
import { decodeRows } from '../../../../shared/protocol/live-rows.ts';
import { codeIsNeeded } from '../parts/api.ts';
import { heardMs, link, take, takeRows } from './floor-state.ts';

/** First wait before trying anew, and the longest; each try doubles it, with jitter. */
const firstWaitMs = 500;
const longestWaitMs = 8_000;

let waitMs = firstWaitMs;
let socket: WebSocket | null = null;
let next: ReturnType<typeof setTimeout> | undefined;

/** Keeps a WebSocket to the server, for as long as the page lives. */
export function keepFeed(): void {
  // A socket that hears nothing may be dead without knowing (a laptop slept, the radio went):
  // first the page says stale, then it gives the socket up and tries a new one.
  setInterval(() => {
    const silentMs = Date.now() - (heardMs.value ?? Date.now());
    if (link.value === 'live' && silentMs > staleMs) link.value = 'stale';
    if (link.value === 'stale' && silentMs > 3 * staleMs) socket?.close();
  }, 500);
  connect();
}

/** Tries now, such as after the access code was taken. */
export function connect(): void {
  clearTimeout(next);
  const url = new URL(livePath, location.href);
  url.protocol = url.protocol === 'https:' ? 'wss:' : 'ws:';
  const mine = new WebSocket(url);
  socket = mine;
  mine.binaryType = 'arraybuffer';
  mine.onmessage = ({ data }: MessageEvent<string | ArrayBuffer>) => {
    waitMs = firstWaitMs;
    // After `take`, so that a greeting can tell how long the page had heard nothing.
    if (typeof data === 'string') take(JSON.parse(data) as LiveMessage);
    else {
      const rows = decodeRows(data);
      if (rows) takeRows(rows);
    }
    heardMs.value = Date.now();
    if (link.value !== 'live') link.value = 'live';
  };
  mine.onclose = () => {
    if (socket === mine) void again();
  };
}

async function again(): Promise<void> {
  socket = null;
  link.value = (await codeIsNeeded()) ? 'locked' : 'offline';
  if (link.value === 'locked') return;
  next = setTimeout(connect, waitMs * (0.75 + Math.random() / 2));
  waitMs = Math.min(longestWaitMs, waitMs * 2);
}
