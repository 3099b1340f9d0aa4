/**
 * Square matrices of a few rows, by rows in a Float64Array: all that a ladder of at most three
 * lines needs. Called when a wire warms or a switch moves, never at a step.
 */
export type Matrix = Float64Array;

/** out = (I + R·G)⁻¹. */
export function foldingOf(r: Matrix, g: Matrix, n: number, out: Matrix): void {
  const wide = new Float64Array(n * 2 * n);
  for (let row = 0; row < n; row++) {
    for (let column = 0; column < n; column++) {
      let sum = row === column ? 1 : 0;
      for (let k = 0; k < n; k++) sum += r[row * n + k]! * g[k * n + column]!;
      wide[row * 2 * n + column] = sum;
    }
    wide[row * 2 * n + n + row] = 1;
  }
  eliminate(wide, n);
  for (let row = 0; row < n; row++) {
    for (let column = 0; column < n; column++) {
      out[row * n + column] = wide[row * 2 * n + n + column]!;
    }
  }
}

/** Gauss–Jordan on [A | I]; A is I + R·G of passive parts, whose diagonal cannot vanish. */
function eliminate(wide: Float64Array, n: number): void {
  const width = 2 * n;
  for (let pivot = 0; pivot < n; pivot++) {
    const scale = 1 / wide[pivot * width + pivot]!;
    for (let column = 0; column < width; column++) wide[pivot * width + column]! *= scale;
    for (let row = 0; row < n; row++) {
      if (row === pivot) continue;
      const factor = wide[row * width + pivot]!;
      for (let column = 0; column < width; column++) {
        wide[row * width + column]! -= factor * wide[pivot * width + column]!;
      }
    }
  }
}

/** out = a·b; `out` is neither of them. */
export function multiply(a: Matrix, b: Matrix, n: number, out: Matrix): void {
  for (let row = 0; row < n; row++) {
    for (let column = 0; column < n; column++) {
      let sum = 0;
      for (let k = 0; k < n; k++) sum += a[row * n + k]! * b[k * n + column]!;
      out[row * n + column] = sum;
    }
  }
}
