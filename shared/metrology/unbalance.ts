import { assert } from '../assert.ts';

/** Symmetrical components of three phasors, and the unbalance they show. */
export interface SymmetricalComponents {
  /** Magnitudes in the phasors' unit. */
  positive: number;
  negative: number;
  zero: number;
  /** Negative- and zero-sequence unbalance as fractions of the positive sequence. */
  u2: number;
  u0: number;
}

export function emptyComponents(): SymmetricalComponents {
  return { positive: NaN, negative: NaN, zero: NaN, u2: NaN, u0: NaN };
}

const HALF_ROOT_3 = Math.sqrt(3) / 2;

/**
 * Components of the fundamental phasors of three phases in the order of rotation L1, L2, L3
 * (IEC 61000-4-30, 5.7: unbalance is evaluated on the fundamental alone). A balanced set 1∠0°,
 * 1∠−120°, 1∠120° has positive 1, negative 0, zero 0. Wired in the other order negative is the
 * large one and u2 exceeds 1. Without a positive sequence u2 and u0 are NaN.
 */
export function symmetricalComponents(
  re: ArrayLike<number>,
  im: ArrayLike<number>,
  out: SymmetricalComponents = emptyComponents(),
): SymmetricalComponents {
  assert(re.length >= 3 && im.length >= 3, 'symmetrical components need three phasors');
  const sumRe = re[1]! + re[2]!;
  const sumIm = im[1]! + im[2]!;
  // a = −½ + j√3/2. a·L2 + a²·L3 = −½(L2 + L3) + j√3/2·(L2 − L3), and a²·L2 + a·L3 its twin.
  const turnRe = -HALF_ROOT_3 * (im[1]! - im[2]!);
  const turnIm = HALF_ROOT_3 * (re[1]! - re[2]!);
  const restRe = re[0]! - sumRe / 2;
  const restIm = im[0]! - sumIm / 2;
  out.zero = Math.hypot(re[0]! + sumRe, im[0]! + sumIm) / 3;
  out.positive = Math.hypot(restRe + turnRe, restIm + turnIm) / 3;
  out.negative = Math.hypot(restRe - turnRe, restIm - turnIm) / 3;
  out.u2 = out.positive > 0 ? out.negative / out.positive : NaN;
  out.u0 = out.positive > 0 ? out.zero / out.positive : NaN;
  return out;
}
