import type { Branch } from '../protocol/circuit.ts';
import type { Amperes } from '../units.ts';
import { thickestNotOver } from './ampacity.ts';
import { smallConductors } from './ampacity-tables.ts';
import { gaugeNumber } from './wire.ts';

/** The thickest of the small conductors, AWG. */
const smallest = 10;

/** Breaker, and receptacles that may hang on it: NEC table 210.21(B)(3). */
const pairs: readonly (readonly [breaker: Amperes, receptacles: readonly Amperes[]])[] = [
  [15, [15]],
  [20, [15, 20]],
  [30, [30]],
  [40, [40, 50]],
  [50, [50]],
];

/**
 * How a receptacle goes with its breaker. Of sizes that the table does not have, the rule for a
 * single receptacle stands: not under its circuit (210.21(B)(1)).
 */
export function receptacleAgainst(
  breaker: Amperes,
  receptacle: Amperes,
): 'fits' | 'over' | 'under' {
  const listed = pairs.find(([size]) => size === breaker)?.[1];
  if (listed?.includes(receptacle)) return 'fits';
  if (receptacle < breaker) return 'under';
  return listed ? 'over' : 'fits';
}

/**
 * Most that may protect small conductors that are no welder's, NEC 240.4(D); null over 10 AWG.
 * Table 240.4(G) lets the conductors of a welder's circuit have more, and no others.
 */
export function smallConductorMost({ awg, metal = 'copper' }: Branch): Amperes | null {
  if (awg === undefined || gaugeNumber(awg) < smallest) return null;
  return thickestNotOver(smallConductors[metal], awg)?.[1] ?? null;
}
