import { edgeSample } from './edge-sample.ts';
import type { SplitBorder } from './split-border.ts';

/** Where a half cycle lies in its columns. */
export interface HalfCyclePlace {
  readonly from: SplitBorder;
  readonly to: SplitBorder;
  /** Position of the columns' first sample, and index of their newest. */
  readonly origin: number;
  readonly last: number;
}

/** Cosine and sine of an angle, and of a sample's step: an array, as arguments would be boxed. */
const angle = new Float64Array(4);

/**
 * Sums of v·cos θ, v·sin θ, i·cos θ and i·sin θ over one half cycle, into `sums[at … at + 3]`. θ is
 * 0 at the half cycle's first border and π at its second, so borders that breathe with the supply's
 * frequency need no frequency. Goertzel's recurrence, y = x + 2·cos(2t)·y′ − y″, costs two thirds
 * less than a rotation; even and odd samples run apart, because each y waits for the one before.
 */
export function addHalfCyclePhasors(
  volts: Float64Array,
  amps: Float64Array,
  place: HalfCyclePlace,
  sums: Float64Array,
  at: number,
): void {
  const { from, to, origin } = place;
  const turn = Math.PI / (to.position - from.position);
  const start = from.sample + 1 - origin;
  const stop = to.sample + 1 - origin;
  const twice = 2 * Math.cos(2 * turn);
  let v0 = 0.0;
  let v0Old = 0.0;
  let v1 = 0.0;
  let v1Old = 0.0;
  let i0 = 0.0;
  let i0Old = 0.0;
  let i1 = 0.0;
  let i1Old = 0.0;
  let k = start;
  for (; k < stop - 1; k += 2) {
    const v0New = volts[k]! - v0Old + twice * v0;
    v0Old = v0;
    v0 = v0New;
    const i0New = amps[k]! - i0Old + twice * i0;
    i0Old = i0;
    i0 = i0New;
    const v1New = volts[k + 1]! - v1Old + twice * v1;
    v1Old = v1;
    v1 = v1New;
    const i1New = amps[k + 1]! - i1Old + twice * i1;
    i1Old = i1;
    i1 = i1New;
  }
  // θ of the last even sample; without one the recurrence is 0 and any angle will do.
  const even = (k - 2 + origin - from.position) * turn;
  const cosine = Math.cos(turn);
  const sine = Math.sin(turn);
  const step = 2 * sine * cosine;
  const c = Math.cos(even);
  const s = Math.sin(even);
  const c1 = c * cosine - s * sine;
  const s1 = s * cosine + c * sine;
  const v0Re = v0 - 0.5 * twice * v0Old;
  const v1Re = v1 - 0.5 * twice * v1Old;
  const i0Re = i0 - 0.5 * twice * i0Old;
  const i1Re = i1 - 0.5 * twice * i1Old;
  sums[at] = v0Re * c + step * v0Old * s + v1Re * c1 + step * v1Old * s1;
  sums[at + 1] = v0Re * s - step * v0Old * c + v1Re * s1 - step * v1Old * c1;
  sums[at + 2] = i0Re * c + step * i0Old * s + i1Re * c1 + step * i1Old * s1;
  sums[at + 3] = i0Re * s - step * i0Old * c + i1Re * s1 - step * i1Old * c1;
  const c2 = c1 * cosine - s1 * sine;
  const s2 = s1 * cosine + c1 * sine;
  const odd = k < stop;
  if (odd) {
    sums[at] = sums[at]! + volts[k]! * c2;
    sums[at + 1] = sums[at + 1]! + volts[k]! * s2;
    sums[at + 2] = sums[at + 2]! + amps[k]! * c2;
    sums[at + 3] = sums[at + 3]! + amps[k]! * s2;
  }
  angle[2] = cosine;
  angle[3] = sine;
  angle[0] = odd ? c2 : c1;
  angle[1] = odd ? s2 : s1;
  addTail(volts, amps, place.last, to, stop - 1, 1, sums, at);
  angle[0] = Math.cos((from.sample - from.position) * turn);
  angle[1] = Math.sin((from.sample - from.position) * turn);
  addTail(volts, amps, place.last, from, start - 1, -1, sums, at);
}

/** Adds or takes off a border's part of a cell, at this half cycle's own angle of its samples. */
function addTail(
  volts: Float64Array,
  amps: Float64Array,
  last: number,
  border: SplitBorder,
  first: number,
  sign: 1 | -1,
  sums: Float64Array,
  at: number,
): void {
  let cosine = angle[0]!;
  let sine = angle[1]!;
  const stepCosine = angle[2]!;
  const stepSine = angle[3]!;
  for (let n = 0; n < 3; n++) {
    const weight = sign * border.weight(n);
    const v = weight * edgeSample(volts, first + n, last);
    const i = weight * edgeSample(amps, first + n, last);
    sums[at] = sums[at]! + v * cosine;
    sums[at + 1] = sums[at + 1]! + v * sine;
    sums[at + 2] = sums[at + 2]! + i * cosine;
    sums[at + 3] = sums[at + 3]! + i * sine;
    const next = cosine * stepCosine - sine * stepSine;
    sine = sine * stepCosine + cosine * stepSine;
    cosine = next;
  }
}
