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
 * Volts between the machine's terminals over the volts of a pair, where no angle was measured. Two
 * pairs are taken for two legs of a split phase when twice their volts fit the supply better, three
 * for phases to neutral when √3 times theirs do; otherwise a pair has the machine's own volts.
 */
export function voltsPerPair(pairs: number, pairVolts: Volts, expected: readonly Volts[]): number {
  const factor = pairs === 2 ? 2 : pairs === 3 ? Math.sqrt(3) : 1;
  if (factor === 1 || expected.length === 0) return 1;
  const miss = (volts: number) => Math.abs(Math.log(nearestByRatio(expected, volts) / volts));
  return miss(pairVolts * factor) < miss(pairVolts) ? factor : 1;
}

/** What the machine gets: the worst of its loops. */
export const machineVolts = (loopVolts: readonly Volts[]): Volts => Math.min(...loopVolts);

/** The same with no load, as the supply was seen; 0 where a loop's estimate was refused. */
export const openMachineVolts = (loops: readonly ({ openVolts: Volts } | null)[]): Volts =>
  machineVolts(loops.map((view) => view?.openVolts ?? 0));

/** What the supply is, whichever loop is weak or dead: the best of them. */
export const supplyVolts = (loopVolts: readonly Volts[]): Volts => Math.max(...loopVolts);
