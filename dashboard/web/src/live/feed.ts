import type { LiveMessage } from '../../../../shared/protocol/live.ts';
import { livePath, staleMs } from '../../../../shared/protocol/live.ts';
import { decodeRows } from '../../../../shared/protocol/live-rows.ts';
import { codeIsNeeded } from '../parts/api.ts';
import { heardMs, link, take, takeRows } from './floor-state.ts';
import { retryWaitMs } from './retry-wait.ts';

/** A try that brought no word by then: the radio swallowed it, and would for minutes. */
const answerWithinMs = 6_000;
const lookEveryMs = 500;

let tries = 0;
let socket: WebSocket | null = null;
let next: ReturnType<typeof setTimeout> | undefined;

/** Keeps a WebSocket to the server, for as long as the page lives. */
export function keepFeed(): void {
  // A socket that hears nothing may be dead without knowing (a laptop slept, the radio went):
  // first the page says stale, then it gives the socket up and tries a new one. Never both in one
  // look: after a sleep, what came meanwhile still waits to be read.
  setInterval(() => {
    const silentMs = Date.now() - (heardMs.value ?? Date.now());
    if (link.value === 'stale' && silentMs > 3 * staleMs) giveUp();
    else if (link.value === 'live' && silentMs > staleMs) link.value = 'stale';
  }, lookEveryMs);
  const sooner = () => {
    if (link.value === 'offline' && document.visibilityState === 'visible') connect();
  };
  addEventListener('online', sooner);
  document.addEventListener('visibilitychange', sooner);
  connect();
}

/** Tries now, such as after the access code was taken. */
export function connect(): void {
  clearTimeout(next);
  const url = new URL(livePath, location.href);
  url.protocol = url.protocol === 'https:' ? 'wss:' : 'ws:';
  const before = socket;
  const mine = new WebSocket(url);
  socket = mine;
  // One socket at a time: two would tell everything twice.
  before?.close();
  mine.binaryType = 'arraybuffer';
  const patience = setTimeout(() => socket === mine && giveUp(), answerWithinMs);
  mine.onmessage = ({ data }: MessageEvent<string | ArrayBuffer>) => {
    if (socket !== mine) return;
    clearTimeout(patience);
    tries = 0;
    // After `take`, so that a greeting can tell how long the page had heard nothing.
    if (typeof data === 'string') take(JSON.parse(data) as LiveMessage);
    else {
      const frame = decodeRows(data);
      if (frame) takeRows(frame.sensors);
    }
    heardMs.value = Date.now();
    if (link.value !== 'live') link.value = 'live';
  };
  mine.onclose = () => {
    clearTimeout(patience);
    if (socket === mine) giveUp();
  };
}

/** Does not wait for a farewell, which over a dead link takes a minute. */
function giveUp(): void {
  const dead = socket;
  socket = null;
  dead?.close();
  void again();
}

async function again(): Promise<void> {
  // A page that never heard anything may lack the code only, and says nothing before it knows.
  if (heardMs.value !== null) link.value = 'offline';
  const needed = await Promise.race([codeIsNeeded(), never(answerWithinMs)]);
  if (socket) return;
  link.value = needed ? 'locked' : 'offline';
  if (!needed) next = setTimeout(connect, retryWaitMs(tries++, Math.random()));
}

const never = (afterMs: number) =>
  new Promise<false>((resolve) => setTimeout(() => resolve(false), afterMs));
