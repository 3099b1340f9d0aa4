import { assert } from '../assert.ts';

/** Orders are read to the 50th (IEC 61000-4-30 class A), or to what the sampling rate allows. */
export const HIGHEST_ORDER = 50;
/** THD is taken over orders 2 to 40, the customary range of IEC 61000-4-7. */
export const HIGHEST_THD_ORDER = 40;

/** Bins between neighbouring harmonics: a window of 10 cycles at 50 Hz, 12 at 60 Hz. */
export type CyclesPerWindow = 10 | 12;

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
 * `cycles` cycles: bin k is k/cycles times the fundamental. The bins may be spoilt: they are
 * squared in place. `gain`, where given, corrects each bin's magnitude (index = bin).
 */
export function readHarmonics(
  re: Float64Array,
  im: Float64Array,
  points: number,
  cycles: CyclesPerWindow,
  top: number,
  out: HarmonicSet,
  gain: Float64Array | null = null,
): HarmonicSet {
  const half = cycles / 2;
  assert(top >= 1 && top <= HIGHEST_ORDER, 'orders run from 1 to 50');
  assert(top * cycles + half < points / 2, 'the highest group ends below half the sampling rate');
  const toRms = Math.SQRT2 / points;
  out.top = top;
  out.dc = re[0]! / points;
  for (let h = 1; h <= top; h++) {
    const scale = gain === null ? toRms : toRms * gain[h * cycles]!;
    out.re[h] = re[h * cycles]! * scale;
    out.im[h] = im[h * cycles]! * scale;
  }
  out.re[0] = out.dc;
  const squares = re;
  squares[0] = out.dc * out.dc;
  for (let k = 1; k <= top * cycles + half; k++) {
    const scale = gain === null ? toRms : toRms * gain[k]!;
    squares[k] = (re[k]! * re[k]! + im[k]! * im[k]!) * scale * scale;
  }
  groupBins(squares, cycles, top, out);
  out.thd = distortion(top, (h) => Math.hypot(out.re[h]!, out.im[h]!));
  out.thds = distortion(top, (h) => out.subgroups[h]!);
  out.thdg = distortion(top, (h) => out.groups[h]!);
  return out;
}

/** IEC 61000-4-7, 5.5 and annex A: squares of bins folded into groups and subgroups. */
function groupBins(squares: Float64Array, cycles: number, top: number, out: HarmonicSet): void {
  const half = cycles / 2;
  out.subgroups[0] = out.groups[0] = Math.abs(out.dc);
  for (let h = 1; h <= top; h++) {
    const own = h * cycles;
    const near = squares[own - 1]! + squares[own]! + squares[own + 1]!;
    let group = near + (squares[own - half]! + squares[own + half]!) / 2;
    for (let k = 2; k < half; k++) group += squares[own - k]! + squares[own + k]!;
    out.subgroups[h] = Math.sqrt(near);
    out.groups[h] = Math.sqrt(group);
  }
  // The last one would reach beyond the bins that were squared: it stops at top − 1.
  for (let h = 0; h < top; h++) {
    let between = 0.0;
    for (let k = 2; k <= cycles - 2; k++) between += squares[h * cycles + k]!;
    out.interharmonics[h] = Math.sqrt(between);
  }
}

function distortion(top: number, size: (order: number) => number): number {
  let squares = 0.0;
  for (let h = 2; h <= Math.min(top, HIGHEST_THD_ORDER); h++) squares += size(h) ** 2;
  const fundamental = size(1);
  return fundamental > 0 ? Math.sqrt(squares) / fundamental : NaN;
}
