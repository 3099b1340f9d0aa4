import type { Volts } from '../units.ts';

/**
 * Supplies that a shop may meet, V between the machine's terminals; from memory. A supply within
 * 6 % of one is taken for it; where two fit, the nearer by ratio.
 */
const nominals = [
  100, 110, 115, 120, 127, 200, 208, 220, 230, 240, 277, 347, 380, 400, 415, 440, 460, 480, 575,
  600,
] as const;
const nominalReach = 0.06;

/** The nominal supply nearest to what was measured, or null where none is near. */
export function nearestNominal(measured: Volts): Volts | null {
  const nearest = nearestByRatio(nominals, measured);
  return Math.abs(measured / nearest - 1) <= nominalReach ? nearest : null;
}

export function nearestByRatio(candidates: readonly number[], volts: Volts): Volts {
  return candidates.reduce((best, each) =>
    Math.abs(Math.log(each / volts)) < Math.abs(Math.log(best / volts)) ? each : best,
  );
}

/**
 * Volts between the machine's terminals over the volts of a pair. Two pairs are two legs of a
 * split phase when twice their volts fit the supply better, three pairs phases to neutral when √3
 * times theirs do; otherwise a pair measures the machine's own volts.
 */
export function voltsPerPair(pairs: number, pairVolts: Volts, expected: readonly Volts[]): number {
  const factor = pairs === 2 ? 2 : pairs === 3 ? Math.sqrt(3) : 1;
  if (factor === 1 || expected.length === 0) return 1;
  const miss = (volts: number) => Math.abs(Math.log(nearestByRatio(expected, volts) / volts));
  return miss(pairVolts * factor) < miss(pairVolts) ? factor : 1;
}

/** Volts at the machine from each pair's: the sum of two legs, the worst phase, the worst pair. */
export function machineVolts(pairVolts: readonly Volts[], perPair: number): Volts {
  if (perPair === 2) return pairVolts.reduce((sum, volts) => sum + volts, 0);
  return Math.min(...pairVolts) * perPair;
}

/** What the supply is, whichever pair is weak or dead: the sum of two legs, else the best pair. */
export function supplyVolts(pairVolts: readonly Volts[], perPair: number): Volts {
  return perPair === 2 ? machineVolts(pairVolts, 2) : Math.max(...pairVolts) * perPair;
}
