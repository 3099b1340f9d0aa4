import type { Volts } from '../units.ts';
import type { HalfCycleHistory } from './half-cycle-history.ts';

/** Half cycles whose lengths differ by less do so by what noise moves a crossing. */
const sameLength = 0.005;

/**
 * Urms(1/2) of entry `n` as a whole cycle would have it. After a phase jump the next border is
 * moved by all of it at once, and the two windows that hold this half cycle are longer than a
 * cycle: from ε radians before a crossing to the crossing a cycle later, where the mean square of
 * a sine is 1 − sin 2ε ÷ (2·(2π + ε)) of its own. That is 3.6 % of the voltage at 45°, and no dip.
 * What is short reads high, and makes no minimum.
 */
export function asOneCycle(history: HalfCycleHistory, n: number, rms: Volts): Volts {
  if (n - 2 < history.oldest) return rms;
  const before = lengthOf(history, n - 2);
  const first = lengthOf(history, n - 1);
  const second = lengthOf(history, n);
  // Of three neighbours at most one was moved: the one in the middle is a true half cycle.
  const half =
    before + first + second - Math.min(before, first, second) - Math.max(before, first, second);
  const longer = (first + second) / half - 2;
  // A window of 90° and more beyond a cycle holds no deficit that the formula knows.
  if (longer < sameLength || longer > 0.5) return rms;
  const angle = Math.PI * longer;
  return rms / Math.sqrt(1 - Math.sin(2 * angle) / (2 * (2 * Math.PI + angle)));
}

const lengthOf = (history: HalfCycleHistory, n: number): number =>
  history.end[history.slot(n)]! - history.start[history.slot(n)]!;
