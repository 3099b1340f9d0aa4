import type { LiveMessage } from '../../../shared/protocol/live.ts';
import { livePath, staleMs } from '../../../shared/protocol/live.ts';
import { decodeRows } from '../../../shared/protocol/live-rows.ts';
import { heardMs, link, take, takeRows } from './floor-state.ts';

/** First wait before trying anew, and the longest; each try doubles it, with jitter. */
const firstWaitMs = 500;
const longestWaitMs = 8_000;

/** Keeps a WebSocket to the server, for as long as the page lives. */
export function keepFeed(): void {
  let waitMs = firstWaitMs;
  let socket: WebSocket | null = null;

  const connect = () => {
    const url = new URL(livePath, location.href);
    url.protocol = url.protocol === 'https:' ? 'wss:' : 'ws:';
    const mine = new WebSocket(url);
    socket = mine;
    mine.binaryType = 'arraybuffer';
    mine.onmessage = ({ data }: MessageEvent<string | ArrayBuffer>) => {
      waitMs = firstWaitMs;
      heardMs.value = Date.now();
      if (link.value !== 'live') link.value = 'live';
      if (typeof data === 'string') return take(JSON.parse(data) as LiveMessage);
      const rows = decodeRows(data);
      if (rows) takeRows(rows);
    };
    mine.onclose = () => {
      if (socket !== mine) return;
      socket = null;
      link.value = 'offline';
      setTimeout(connect, waitMs * (0.75 + Math.random() / 2));
      waitMs = Math.min(longestWaitMs, waitMs * 2);
    };
  };

  // A socket that hears nothing may be dead without knowing (a laptop slept, the radio went):
  // first the page says stale, then it gives the socket up and tries a new one.
  setInterval(() => {
    const silentMs = Date.now() - (heardMs.value ?? Date.now());
    if (link.value === 'live' && silentMs > staleMs) link.value = 'stale';
    if (link.value === 'stale' && silentMs > 3 * staleMs) socket?.close();
  }, 500);
  connect();
}
