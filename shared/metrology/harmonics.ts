import { assert } from '../assert.ts';
import type { Hertz } from '../units.ts';

/** Orders are read to the 50th (IEC 61000-4-30 class A), or to what the sampling rate allows. */
export const HIGHEST_ORDER = 50;
/** THD is taken over orders 2 to 40, the customary range of IEC 61000-4-7. */
export const HIGHEST_THD_ORDER = 40;

/** Bins between neighbouring harmonics: a window of 10 cycles at 50 Hz, 12 at 60 Hz. */
export type CyclesPerWindow = 10 | 12;

/** A window's cycles by the frequency, or by the nominal one: nearer to 50 or to 60 Hz. */
export function cyclesAt(hertz: Hertz): CyclesPerWindow {
  return hertz < 55 ? 10 : 12;
}

/**
 * One channel's harmonics over a 10/12-cycle window after IEC 61000-4-7. Index = order, 0 the
 * direct component; orders above `top` are 0. Values in the channel's unit, r.m.s.
 */
export interface HarmonicSet {
  /** Highest order that the sampling rate lets us see. */
  top: number;
  /** Phasors of the harmonics' own bins, cosine reference at the window's start. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Harmonic with its two neighbouring bins: what IEC 61000-4-30 reports. */
  readonly subgroups: Float64Array;
  /** Harmonic with everything half way to its neighbours. */
  readonly groups: Float64Array;
  /** Centred interharmonic subgroup between order h and h + 1. */
  readonly interharmonics: Float64Array;
  /** Signed mean. */
  dc: number;
  /** Total harmonic distortion of orders 2 to 40, fractions of the fundamental; NaN without one. */
  thd: number;
  /** The same by subgroups and by groups. */
  thds: number;
  thdg: number;
}

export function emptyHarmonics(): HarmonicSet {
  const orders = HIGHEST_ORDER + 1;
  return {
    top: 0,
    re: new Float64Array(orders),
    im: new Float64Array(orders),
    subgroups: new Float64Array(orders),
    groups: new Float64Array(orders),
    interharmonics: new Float64Array(orders),
    dc: NaN,
    thd: NaN,
    thds: NaN,
    thdg: NaN,
  };
}

/**
 * Reads harmonics out of the transform of a window of `points` samples that spans exactly
 * `cycles` cycles: bin k is k/cycles times the fundamental. The bins are spoilt: they are squared
 * in place. `gains` tells what the transform's input had lost at each order (1: nothing).
 */
export function readHarmonics(
  re: Float64Array,
  im: Float64Array,
  points: number,
  cycles: CyclesPerWindow,
  gains: Float64Array,
  top: number,
  out: HarmonicSet,
): HarmonicSet {
  const half = cycles / 2;
  assert(top >= 1 && top <= HIGHEST_ORDER, 'orders run from 1 to 50');
  assert(top * cycles + half < points / 2, 'the highest group ends below half the sampling rate');
  const toRms = Math.SQRT2 / points;
  out.top = top;
  out.dc = re[0]! / points;
  out.re[0] = out.dc;
  for (let h = 1; h <= HIGHEST_ORDER; h++) {
    const scale = h <= top ? toRms / gains[h]! : 0;
    out.re[h] = h <= top ? re[h * cycles]! * scale : 0;
    out.im[h] = h <= top ? im[h * cycles]! * scale : 0;
  }
  for (let k = 0; k <= top * cycles + half; k++) {
    re[k] = (re[k]! * re[k]! + im[k]! * im[k]!) * toRms * toRms;
  }
  groupBins(re, cycles, gains, top, out);
  out.thd = distortion(out.re, out.im, top);
  out.thds = distortion(out.subgroups, null, top);
  out.thdg = distortion(out.groups, null, top);
  return out;
}

/** IEC 61000-4-7, 5.5 and annex A: squares of bins folded into groups and subgroups. */
function groupBins(
  squares: Float64Array,
  cycles: number,
  gains: Float64Array,
  top: number,
  out: HarmonicSet,
): void {
  const half = cycles / 2;
  out.subgroups[0] = out.groups[0] = Math.abs(out.dc);
  for (let h = 1; h <= HIGHEST_ORDER; h++) {
    const own = h * cycles;
    let near = 0.0;
    let group = 0.0;
    if (h <= top) {
      near = squares[own - 1]! + squares[own]! + squares[own + 1]!;
      group = near + (squares[own - half]! + squares[own + half]!) / 2;
      for (let k = 2; k < half; k++) group += squares[own - k]! + squares[own + k]!;
    }
    out.subgroups[h] = Math.sqrt(near) / gains[h]!;
    out.groups[h] = Math.sqrt(group) / gains[h]!;
  }
  // The one above `top` would reach beyond the bins that were squared: the last is below it.
  for (let h = 0; h <= HIGHEST_ORDER; h++) {
    let between = 0.0;
    if (h < top) {
      for (let k = 2; k <= cycles - 2; k++) between += squares[h * cycles + k]!;
    }
    out.interharmonics[h] = Math.sqrt(between) / gains[h]!;
  }
}

/** Orders 2 to 40 against the fundamental, of phasors or (without `im`) of magnitudes. */
function distortion(re: Float64Array, im: Float64Array | null, top: number): number {
  let squares = 0.0;
  for (let h = 2; h <= Math.min(top, HIGHEST_THD_ORDER); h++) {
    squares += re[h]! ** 2 + (im === null ? 0 : im[h]! ** 2);
  }
  const fundamental = Math.sqrt(re[1]! ** 2 + (im === null ? 0 : im[1]! ** 2));
  return fundamental > 0 ? Math.sqrt(squares) / fundamental : NaN;
}
