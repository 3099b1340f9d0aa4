import { aliveVolts } from '../rules/arrangement.ts';
import { type ArcSeen, carriersOf, entriesOf } from '../rules/loops.ts';
import type { Seen } from './settle.ts';

/** What arcs that are over show of the wires, the newest that tells; null where none was alive. */
export function seenInArcs(arcs: readonly ArcSeen[], pairs: number): Seen | null {
  return arcs.reduce<Seen | null>((seen, arc) => {
    const volts = entriesOf(arc).map(({ idleVolts, meanVolts }) => idleVolts ?? meanVolts);
    if (Math.max(...volts) < aliveVolts) return seen;
    return { volts, carries: carriersOf(arc, pairs) ?? seen?.carries ?? null };
  }, null);
}
