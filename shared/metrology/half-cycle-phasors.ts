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

/** Cosine and sine at three successive samples around a border, where its tail is weighed. */
const angles = new Float64Array(6);

/**
 * Sums of v·cos θ, v·sin θ, i·cos θ and i·sin θ over one half cycle, into `sums[at … at + 3]`. θ is
 * 0 at the half cycle's first border and π at its second, so borders that breathe with the supply's
 * frequency need no frequency. Two samples a turn: a rotation waits for the one before.
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
  const phase = (start + origin - from.position) * turn;
  const cosine = Math.cos(turn);
  const sine = Math.sin(turn);
  const stepCosine = cosine * cosine - sine * sine;
  const stepSine = 2 * sine * cosine;
  let c0 = Math.cos(phase);
  let s0 = Math.sin(phase);
  let c1 = c0 * cosine - s0 * sine;
  let s1 = s0 * cosine + c0 * sine;
  sums.fill(0, at, at + 4);
  setAngles(c0 * cosine + s0 * sine, s0 * cosine - c0 * sine, cosine, sine);
  addTail(volts, from, place, -1, sums, at);
  addTail(amps, from, place, -1, sums, at + 2);
  let vc = 0.0;
  let vs = 0.0;
  let ic = 0.0;
  let is = 0.0;
  let k = start;
  for (; k < stop - 1; k += 2) {
    const v0 = volts[k]!;
    const i0 = amps[k]!;
    const v1 = volts[k + 1]!;
    const i1 = amps[k + 1]!;
    vc += v0 * c0 + v1 * c1;
    vs += v0 * s0 + v1 * s1;
    ic += i0 * c0 + i1 * c1;
    is += i0 * s0 + i1 * s1;
    const next0 = c0 * stepCosine - s0 * stepSine;
    s0 = s0 * stepCosine + c0 * stepSine;
    c0 = next0;
    const next1 = c1 * stepCosine - s1 * stepSine;
    s1 = s1 * stepCosine + c1 * stepSine;
    c1 = next1;
  }
  const odd = k < stop;
  if (odd) {
    vc += volts[k]! * c0;
    vs += volts[k]! * s0;
    ic += amps[k]! * c0;
    is += amps[k]! * s0;
  }
  const last = odd ? c0 : c0 * cosine + s0 * sine;
  setAngles(last, odd ? s0 : s0 * cosine - c0 * sine, cosine, sine);
  addTail(volts, to, place, 1, sums, at);
  addTail(amps, to, place, 1, sums, at + 2);
  sums[at] = sums[at]! + vc;
  sums[at + 1] = sums[at + 1]! + vs;
  sums[at + 2] = sums[at + 2]! + ic;
  sums[at + 3] = sums[at + 3]! + is;
}

function setAngles(c: number, s: number, cosine: number, sine: number): void {
  angles[0] = c;
  angles[1] = s;
  for (let n = 0; n < 4; n += 2) {
    angles[n + 2] = angles[n]! * cosine - angles[n + 1]! * sine;
    angles[n + 3] = angles[n + 1]! * cosine + angles[n]! * sine;
  }
}

/** Adds or takes off the part of a border's cell, at this half cycle's own angle. */
function addTail(
  x: Float64Array,
  border: SplitBorder,
  place: HalfCyclePlace,
  sign: 1 | -1,
  sums: Float64Array,
  at: number,
): void {
  const first = border.sample - place.origin;
  for (let n = 0; n < 3; n++) {
    const value = sign * border.weight(n) * edgeSample(x, first + n, place.last);
    sums[at] = sums[at]! + value * angles[2 * n]!;
    sums[at + 1] = sums[at + 1]! + value * angles[2 * n + 1]!;
  }
}
