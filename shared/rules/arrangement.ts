import type { Arrangement, Service } from '../protocol/service.ts';
import type { Volts } from '../units.ts';
import { arrangementLimits as cuts } from './limits.ts';

/** What a sensor sees of its supply: every measured pair, then what lies between two of them. */
export interface ServiceSeen {
  arrangement: Arrangement;
  /** R.m.s. with the machine idle, one entry of a row each. */
  volts: readonly Volts[];
}

/** A circuit under this is dead: it has no angle and no class. */
export const aliveVolts: Volts = 30;

/** As a judgement tells it. */
export function toldService({ arrangement, volts }: ServiceSeen): Service {
  const pairs = volts.length === 6 ? 3 : volts.length === 3 ? 2 : 1;
  const direct = arrangement === 'three-phase-delta';
  return { arrangement, voltsBetween: direct ? volts.slice(0, pairs) : volts.slice(pairs) };
}

/** Degrees between two voltages, by the sides of their triangle; null where one is dead. */
export function angleBetween(one: Volts, other: Volts, between: Volts): number | null {
  if (Math.min(one, other) < aliveVolts) return null;
  const cosine = (one * one + other * other - between * between) / (2 * one * other);
  return (Math.acos(Math.min(1, Math.max(-1, cosine))) * 180) / Math.PI;
}

/**
 * The arrangement that magnitudes and angles agree on. `volts` are of a row: pairs, then between
 * them; the angle follows from the triangle that two voltages and their difference make, so no
 * phasor is asked for, and a stored arc is enough. `lineToLine`: three pairs that were measured
 * from line to line, as the plate or the circuit tells.
 */
export function arrangementOf(volts: readonly Volts[], lineToLine = false): Arrangement {
  if (volts.length === 1) return 'single';
  if (volts.length === 3) return ofTwo(volts[0]!, volts[1]!, volts[2]!);
  return lineToLine ? ofDelta(volts.slice(0, 3)) : ofThree(volts.slice(0, 3), volts.slice(3));
}

const alike = (a: Volts, b: Volts) => Math.min(a, b) >= cuts.alike.value * Math.max(a, b);

/** Angle first, magnitudes as second witness; where they disagree nothing is claimed. */
function ofTwo(one: Volts, two: Volts, between: Volts): Arrangement {
  const [low, high] = [Math.min(one, two), Math.max(one, two)];
  if (high < aliveVolts) return 'unknown';
  const degrees = angleBetween(one, two, between);
  // A leg that an open neutral drags down still makes up the whole with the other.
  const whole = between > (1 + cuts.dead.value) * high;
  if (degrees === null || (low < cuts.dead.value * high && !whole)) return 'missing-phase';
  if (degrees > cuts.splitDegrees.value)
    return alike(one, two) || isSplitWhole(between) ? 'split-phase' : 'unknown';
  if (degrees > cuts.wyeDegrees.value) {
    if (!alike(one, two)) return 'unknown';
    return Math.abs(between / 208 - 1) <= cuts.near.value ? 'wye-208' : 'wye-legs';
  }
  if (degrees > cuts.highLegDegrees.value) return isHighLeg(low, high) ? 'high-leg' : 'unknown';
  if (!alike(one, two)) return 'unknown';
  if (degrees < cuts.sameDegrees.value) return 'same-leg';
  // Two legs of a delta have its whole voltage to the grounded one; at 120 V one input is reversed.
  return low >= cuts.cornerVolts.value ? 'corner-grounded' : 'unknown';
}

/** 220 to 240 V between two legs, and the range that utilities keep around them. */
const isSplitWhole = (between: Volts) =>
  between >= 220 * (1 - cuts.near.value) && between <= 240 * (1 + cuts.near.value);

const isHighLeg = (low: Volts, high: Volts) => {
  const ratio = high / low;
  return ratio >= cuts.highLegLeast.value && ratio <= cuts.highLegMost.value;
};

/** By the triangle of the three lines, which is right wherever the neutral lies. */
function ofThree(pairs: readonly Volts[], between: readonly Volts[]): Arrangement {
  const [least, most] = [Math.min(...between), Math.max(...between)];
  if (Math.max(...pairs) < aliveVolts) return 'unknown';
  if (most < aliveVolts) return 'same-leg';
  if (least < cuts.twice.value * most)
    return between.filter((each) => each > cuts.whole.value * most).length === 2
      ? 'phase-twice'
      : 'missing-phase';
  if (least >= cuts.whole.value * most) return aboutNeutral(pairs);
  // Three that are alike to neutral lack nothing: one of them is reversed.
  return alike(Math.min(...pairs), Math.max(...pairs)) ? 'unknown' : 'missing-phase';
}

/** Where the neutral lies in a triangle of three lines that is whole. */
function aboutNeutral(pairs: readonly Volts[]): Arrangement {
  const [low, middle, high] = pairs.toSorted((a, b) => a - b) as [Volts, Volts, Volts];
  if (alike(low, high)) return 'three-phase';
  if (low < cuts.dead.value * high && alike(middle, high)) return 'corner-grounded';
  return alike(low, middle) && isHighLeg(middle, high) ? 'high-leg' : 'unknown';
}

function ofDelta(lines: readonly Volts[]): Arrangement {
  const [least, most] = [Math.min(...lines), Math.max(...lines)];
  if (most < aliveVolts) return 'unknown';
  if (least < cuts.twice.value * most) return 'phase-twice';
  return least < cuts.whole.value * most ? 'missing-phase' : 'three-phase-delta';
}
