import type { PlateRating, PlateSupply } from '../protocol/plate.ts';
import type { Amperes, Fraction } from '../units.ts';

/**
 * Duty, multiplier of a machine without a motor, multiplier of a motor-generator: NEC table
 * 630.11(A), 2008 text; unchanged to 2023 (from memory).
 */
const multipliers: readonly (readonly [duty: Fraction, still: number, motor: number])[] = [
  [0.2, 0.45, 0.55],
  [0.3, 0.55, 0.62],
  [0.4, 0.63, 0.69],
  [0.5, 0.71, 0.75],
  [0.6, 0.78, 0.81],
  [0.7, 0.84, 0.86],
  [0.8, 0.89, 0.91],
  [0.9, 0.95, 0.96],
  [1, 1, 1],
];

/** Between rows the Code gives nothing: the next higher duty is taken. */
export function dutyMultiplier(duty: Fraction, kind: 'still' | 'motor' = 'still'): number {
  const row = multipliers.find(([listed]) => duty <= listed + 1e-9) ?? [1, 1, 1];
  return kind === 'still' ? row[1]! : row[2]!;
}

/** Least conductor ampacity for one machine: I1eff, or I1max by its duty where not given. */
export function leastAmpacity(
  rated: PlateSupply,
  ratings: readonly PlateRating[] | undefined,
): Amperes {
  if (rated.I1eff !== undefined) return rated.I1eff;
  // The duty that belongs to I1max is that of the largest output.
  const top = ratings?.reduce<PlateRating | null>(
    (best, each) => (best === null || each.I2 > best.I2 ? each : best),
    null,
  );
  return rated.I1max * dutyMultiplier(top?.X ?? 1);
}

/** Share of the machines' currents that their feeder must carry, largest first: NEC 630.11(B). */
const groupShares = [1, 1, 0.85, 0.7] as const;
const groupRest = 0.6;

/** Least ampacity of a feeder of several machines, from each one's own least ampacity. */
export function groupAmpacity(each: readonly Amperes[]): Amperes {
  return [...each]
    .sort((a, b) => b - a)
    .reduce((sum, amps, index) => sum + amps * (groupShares[index] ?? groupRest), 0);
}

/** Ratings of breakers, A (NEC 240.6(A), from memory). */
const breakers = [
  15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350,
  400, 450, 500, 600, 700, 800, 1000,
] as const;

/** Where a limit is no listed size the next higher one may stand (NEC 630.12). */
export const largestBreaker = (limit: Amperes): Amperes =>
  breakers.find((size) => size >= limit - 1e-9) ?? limit;
