/**
 * A cycle border between samples. Sums up to it are read from the running sum of a signal f by
 * cubic interpolation: with S(k + ½) the sum of all samples up to k, S(border) = S(k + ½) + tail.
 * Whole-sample borders ripple the r.m.s. of a pure 60 Hz sine at 10 240/s by 0.29 % (computed);
 * these by less than a part in a million, and by 0.01 % at 1 kHz.
 */
export class SplitBorder {
  position = 0.0;
  /** Last sample before the border: k ≤ position − ½ < k + 1. */
  sample = 0;
  /** The tail's weights of f[k], f[k + 1] and f[k + 2]. */
  a = 0.5;
  b = 0.5;
  c = 0.5;

  place(position: number): void {
    this.position = position;
    this.sample = Math.floor(position - 0.5);
    const u = position - 0.5 - this.sample;
    // Lagrange's weights of S(k − ½), S(k + 1½), S(k + 2½), each told as a distance from S(k + ½).
    const before = (-u * (u - 1) * (u - 2)) / 6;
    const next = (-u * (u + 1) * (u - 2)) / 2;
    const over = (u * (u + 1) * (u - 1)) / 6;
    this.a = -before;
    this.b = next + over;
    this.c = over;
  }

  weight(n: number): number {
    return n === 0 ? this.a : n === 1 ? this.b : this.c;
  }
}
