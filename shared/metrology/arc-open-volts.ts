import type { SampleIndex, Volts } from '../units.ts';
import type { SupplyEvidence } from './supply-evidence.ts';

/** Fundamental volts of the open circuit as the arcs had it. */
export interface ArcOpenVolts {
  /** Before and after the newest arc. */
  newest: Volts;
  /** Standard uncertainty of that: its move over the arc, and the edges' own. */
  sd: Volts;
  /** Beside any arc since `since`. */
  lowest: Volts;
}

/** Reads it from the idle sides of the edges; there is at least one. */
export function arcOpenVolts(evidence: SupplyEvidence, since: SampleIndex): ArcOpenVolts {
  const last = evidence.size - 1;
  let lowest = Number.POSITIVE_INFINITY;
  let sum = 0;
  let squares = 0;
  let variance = 0;
  let count = 0;
  for (let k = last; k >= 0; k--) {
    const c = evidence.column(k);
    if (evidence.at[c]! < since && count > 0) break;
    const volts = evidence.idleVolts[c]!;
    lowest = Math.min(lowest, volts);
    const sameArc = k === last - 1 && evidence.began[c] === 1;
    if (k < last && !sameArc) continue;
    sum += volts;
    squares += volts * volts;
    variance += evidence.mVariance[c]!;
    count++;
  }
  const newest = sum / count;
  const moved = Math.max(0, squares / count - newest * newest);
  return { newest, sd: Math.sqrt(moved + variance / count), lowest };
}
