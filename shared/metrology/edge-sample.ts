/**
 * Sample k of x[0 … last]; one step beyond either end, what a parabola through the next three says.
 * A stream may begin and end half a sample before its first and after its last border.
 */
export function edgeSample(x: Float64Array, k: number, last: number): number {
  if (k < 0) return 3 * x[0]! - 3 * x[1]! + x[2]!;
  return k > last ? 3 * x[last]! - 3 * x[last - 1]! + x[last - 2]! : x[k]!;
}
