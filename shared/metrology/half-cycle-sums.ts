/**
 * Adds up v², i² and v·i over samples [from, to) into `sums[at … at + 2]`: the innermost loop of
 * everything. Two samples a turn on sums of their own, because one sum waits for its last
 * addition; locals, because fields are stored on every turn.
 */
export function addHalfCycle(
  volts: Float64Array,
  amps: Float64Array,
  from: number,
  to: number,
  sums: Float64Array,
  at: number,
): void {
  let vv0 = 0.0;
  let vv1 = 0.0;
  let ii0 = 0.0;
  let ii1 = 0.0;
  let vi0 = 0.0;
  let vi1 = 0.0;
  let k = from;
  for (const even = to - 1; k < even; k += 2) {
    const v0 = volts[k]!;
    const i0 = amps[k]!;
    const v1 = volts[k + 1]!;
    const i1 = amps[k + 1]!;
    vv0 += v0 * v0;
    ii0 += i0 * i0;
    vi0 += v0 * i0;
    vv1 += v1 * v1;
    ii1 += i1 * i1;
    vi1 += v1 * i1;
  }
  if (k < to) {
    const v = volts[k]!;
    const i = amps[k]!;
    vv0 += v * v;
    ii0 += i * i;
    vi0 += v * i;
  }
  sums[at] = vv0 + vv1;
  sums[at + 1] = ii0 + ii1;
  sums[at + 2] = vi0 + vi1;
}

/** The same of a voltage alone: v² over samples [from, to) into `sums[at]`. */
export function addSquares(
  volts: Float64Array,
  from: number,
  to: number,
  sums: Float64Array,
  at: number,
): void {
  let even = 0.0;
  let odd = 0.0;
  let k = from;
  for (const last = to - 1; k < last; k += 2) {
    even += volts[k]! * volts[k]!;
    odd += volts[k + 1]! * volts[k + 1]!;
  }
  if (k < to) even += volts[k]! * volts[k]!;
  sums[at] = even + odd;
}
