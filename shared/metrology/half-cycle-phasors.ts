import type { SplitBorder } from './split-border.ts';

/**
 * Sums of x·cos θ and x·sin θ over one half cycle, into `sums[at, at + 1]`. θ is 0 at the half
 * cycle's first border and π at its second, so borders that breathe with the supply's frequency
 * need no frequency. Indices are those of `x`, `first` and `second` are the borders in them.
 */
export function addHalfCyclePhasor(
  x: Float64Array,
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
  sums[at] = re + tail(x, to, offset, first, turn, 0) - tail(x, from, offset, first, turn, 0);
  const quarter = -Math.PI / 2;
  sums[at + 1] =
    im + tail(x, to, offset, first, turn, quarter) - tail(x, from, offset, first, turn, quarter);
}

/** The part of a border's cell that lies before it; the stream's edge repeats its last sample. */
function tail(
  x: Float64Array,
  border: SplitBorder,
  offset: number,
  first: number,
  turn: number,
  shift: number,
): number {
  const k = border.sample - offset;
  const term = (n: number) => (x[n] ?? 0) * Math.cos((n - first) * turn + shift);
  return border.a * term(k) + border.b * term(k + 1) + border.c * term(k + 2);
}
