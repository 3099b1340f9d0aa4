import { signal, useComputed } from '@preact/signals';
import type { Sensor } from '../../../../shared/protocol/http.ts';
import { clock } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import type { Circuit, Link } from './floor-state.ts';

/** Rows come once a second; after five that did not, something is wrong on the way. */
const quietTooLongMs = 5_000;

/** Page time that moves once a second, for what depends on how long ago. */
export const nowMs = signal(Date.now());
setInterval(() => {
  nowMs.value = Date.now();
}, 1_000);

/** A count that moves each `everyMs`: what only hangs on that is not drawn anew each second. */
export const useTick = (everyMs: number): number =>
  useComputed(() => Math.floor(nowMs.value / everyMs)).value;

export interface Standing {
  kind: 'arc' | 'quiet' | 'late' | 'off' | 'lost' | 'unknown';
  words: string;
}

/** A circuit that is quiet, one that nobody hears from, and a page that is itself cut off. */
export function standing(
  sensor: Sensor,
  heardMs: Circuit['heardMs'],
  link: Link,
  now: number,
): Standing {
  const { stands } = words.floor;
  if (link !== 'live') return { kind: 'unknown', words: stands.unknown };
  if (sensor.state === 'offline')
    return { kind: 'off', words: stands.off(clock(sensor.stateSince)) };
  if (sensor.state === 'lost')
    return { kind: 'lost', words: stands.lost(clock(sensor.stateSince)) };
  if (heardMs !== null && now - heardMs > quietTooLongMs)
    return { kind: 'late', words: stands.late(Math.round((now - heardMs) / 1_000)) };
  if (sensor.state === 'arc') return { kind: 'arc', words: stands.arc };
  return { kind: 'quiet', words: stands.quiet };
}
