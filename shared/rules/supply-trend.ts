import type { Ohms, Seconds } from '../units.ts';

/** What an arc showed of a supply's resistance, with its 95 % interval. */
export interface TrendPoint {
  atS: Seconds;
  ohmsR: Ohms;
  ohmsR95: readonly [Ohms, Ohms];
}

export interface SupplyTrend {
  /** `few`: there is too little to hold the newest estimate against. */
  kind: 'risen' | 'steady' | 'few';
  /** The first weeks; null where there are too few estimates. */
  before: TrendPoint | null;
  now: TrendPoint;
}

/** What counts as the first weeks: common practice, no source. */
export const firstWeeksS: Seconds = 14 * 86_400;
/** Of a younger record its first third. */
const youngPart = 1 / 3;
/** A single estimate may stand on one odd arc. */
const leastPoints = 3;
/** Copper has 0.39 % more resistance a kelvin (from memory); 40 K lie between a cold morning and a
 * loaded wire on a summer's afternoon. */
const warmPart = 0.0039 * 40;

/**
 * Whether a supply's resistance has risen since it was first seen: a terminal or a plug's contact
 * that works loose does that. Risen when the newest interval lies wholly above that of the first
 * weeks (their medians) and by more than warm wire makes. Common practice, no source.
 *
 * `first`: the earliest estimates of the same wiring, oldest first; `now`: the newest of it.
 */
export function supplyTrend(first: readonly TrendPoint[], now: TrendPoint): SupplyTrend {
  const began = first[0]?.atS ?? now.atS;
  const until = began + Math.min(firstWeeksS, youngPart * (now.atS - began));
  const weeks = first.filter(({ atS }) => atS <= until && atS < now.atS);
  if (weeks.length < leastPoints) return { kind: 'few', before: null, now };
  const before: TrendPoint = {
    atS: weeks.at(-1)!.atS,
    ohmsR: median(weeks.map(({ ohmsR }) => ohmsR)),
    ohmsR95: [
      median(weeks.map(({ ohmsR95 }) => ohmsR95[0])),
      median(weeks.map(({ ohmsR95 }) => ohmsR95[1])),
    ],
  };
  const above = now.ohmsR95[0] > before.ohmsR95[1];
  const beyondWarmth = now.ohmsR > before.ohmsR * (1 + warmPart);
  return { kind: above && beyondWarmth ? 'risen' : 'steady', before, now };
}

function median(values: number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
