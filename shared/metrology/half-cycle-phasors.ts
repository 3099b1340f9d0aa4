import { edgeSample } from './edge-sample.ts';
import type { SplitBorder } from './split-border.ts';

/**
 * Sums of x·cos θ and x·sin θ over one half cycle, into `sums[at, at + 1]`. θ is 0 at the half
 * cycle's first border and π at its second, so borders that breathe with the supply's frequency
 * need no frequency. Indices are those of
 * `x`, whose newest sample is `last`; `first` and `second` are the half cycle's borders in them.
 */
export function addHalfCyclePhasor(
  x: Float64Array,
  last: number,
  first: number,
  second: number,
  from: SplitBorder,
  to: SplitBorder,
  offset: number,
  sums: Float64Array,
  at: number,
): void {
  const turn = Math.PI / (second - first);
  const start = from.sample + 1 - offset;
  const stop = to.sample + 1 - offset;
  const stepCosine = Math.cos(turn);
  const stepSine = Math.sin(turn);
  let cosine = Math.cos((start - first) * turn);
  let sine = Math.sin((start - first) * turn);
  let re = 0.0;
  let im = 0.0;
  for (let k = start; k < stop; k++) {
    const value = x[k]!;
    re += value * cosine;
    im += value * sine;
    const next = cosine * stepCosine - sine * stepSine;
    sine = sine * stepCosine + cosine * stepSine;
    cosine = next;
  }
  // Both tails belong to this half cycle's own angle.
  for (let n = 0; n < 3; n++) {
    const after = to.sample - offset + n;
    const before = from.sample - offset + n;
    const late = weightOf(to, n) * edgeSample(x, after, last);
    const early = weightOf(from, n) * edgeSample(x, before, last);
    re += late * Math.cos((after - first) * turn) - early * Math.cos((before - first) * turn);
    im += late * Math.sin((after - first) * turn) - early * Math.sin((before - first) * turn);
  }
  sums[at] = re;
  sums[at + 1] = im;
}

function weightOf(border: SplitBorder, n: number): number {
  return n === 0 ? border.a : n === 1 ? border.b : border.c;
}
