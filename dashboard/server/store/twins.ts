import { isOneWeld, overlapOf } from '../../../shared/rules/split.ts';
import { splitOf } from './split-of.ts';
import type { ArcRecord } from './store.ts';

/** An arc that began longer before another is no twin of it; no weld in a body shop lasts so. */
export const twinLooksBackUs = 3_600_000_000;
/** Part of the longer that both must cover to be looked at as one weld. */
const leastOverlap = 0.5;

export interface Twinned {
  record: ArcRecord;
  twin: number;
  countedBy: number | null;
}

/**
 * The same weld among arcs of a circuit's other end, as what is to be set on both; empty where
 * there is none. Where the two readings agree that it is one weld, the machine's end counts.
 */
export function twinOf(arc: ArcRecord, others: readonly ArcRecord[]): Twinned[] {
  const overlap = (other: ArcRecord) => overlapOf(inSeconds(arc), inSeconds(other));
  const other = others.reduce<ArcRecord | null>(
    (best, each) => (best === null || overlap(each) > overlap(best) ? each : best),
    null,
  );
  if (other === null || overlap(other) < leastOverlap) return [];
  const [outlet, machine] = arc.hung?.at === 'machine' ? [other, arc] : [arc, other];
  const countedBy = isOneWeld(splitOf(outlet, machine)) ? machine.id : null;
  return [
    { record: outlet, twin: machine.id, countedBy },
    { record: machine, twin: outlet.id, countedBy: null },
  ];
}

const inSeconds = ({ startedUs, endedUs }: ArcRecord) => ({
  startS: startedUs / 1e6,
  endS: endedUs / 1e6,
});
