import { assert } from '../assert.ts';

/**
 * Discrete Fourier transform of a power-of-two number of real samples, as one complex transform
 * of half the length. Radix 4 in Stockham's order: every pass reads and writes in sequence, and
 * no bit reversal follows. Real and imaginary parts lie side by side, twiddles in the order they
 * are used: apart, the same sums took 1.7 times as long. All memory is taken at construction.
 */
export class Fft {
  readonly size: number;
  private readonly twiddles: Float64Array[] = [];
  private readonly untwist: Float64Array;
  private readonly a: Float64Array;
  private readonly b: Float64Array;

  constructor(size: number) {
    assert(size >= 16 && Number.isInteger(Math.log2(size)), 'a transform has 2^n ≥ 16 points');
    // A power by ** is a double to V8 even where it is whole, and so would be every index that
    // follows from it: that made the passes take 1.4 times as long. Hence the shifts below, too.
    this.size = size | 0;
    this.a = new Float64Array(size);
    this.b = new Float64Array(size);
    for (let length = this.size / 2; length > 4; length /= 4)
      this.twiddles.push(twiddlesOf(length));
    // Half of each root: untangling halves both of its sums.
    this.untwist = new Float64Array(size / 2 + 2);
    for (let k = 0; k <= size / 4; k++) setRoot(this.untwist, 2 * k, k, size, 0.5);
  }

  /**
   * X[k] = Σ x[n]·e^(−2πikn/size) for k = 0 … size/2, unscaled: `re` and `im` take size/2 + 1
   * values. Of the impulse [1, 0, 0, …] every X[k] is 1; `input` stays as it was.
   */
  realForward(input: Float64Array, re: Float64Array, im: Float64Array): void {
    assert(input.length >= this.size && re.length > this.size / 2, 'a transform fills its arrays');
    let from = this.a;
    let to = this.b;
    let length = this.size >> 1;
    let stride = 1;
    // The first pass takes neighbouring samples as real and imaginary part of one number.
    firstPass(input, from, this.twiddles[0]!, length);
    length >>= 2;
    stride <<= 2;
    for (let i = 1; length > 4; i++, length >>= 2, stride <<= 2) {
      pass(from, to, this.twiddles[i]!, length, stride);
      const spent: Float64Array = from;
      from = to;
      to = spent;
    }
    if (length === 4) lastFour(from, to, stride);
    else lastTwo(from, to, stride);
    untangle(to, this.untwist, this.size >> 1, re, im);
  }
}

/** cos and −sin of 2πk/n, times a factor. */
function setRoot(to: Float64Array, at: number, k: number, n: number, factor = 1): void {
  to[at] = factor * Math.cos((2 * Math.PI * k) / n);
  to[at + 1] = -factor * Math.sin((2 * Math.PI * k) / n);
}

/** First, second and third power of each root of a pass of radix 4. */
function twiddlesOf(length: number): Float64Array {
  const twiddles = new Float64Array((length / 4) * 6);
  for (let p = 0; p < length / 4; p++) {
    for (let power = 1; power <= 3; power++) {
      setRoot(twiddles, 6 * p + 2 * power - 2, p * power, length);
    }
  }
  return twiddles;
}

function firstPass(x: Float64Array, y: Float64Array, w: Float64Array, length: number): void {
  const span = length >> 1;
  for (let a = 0, to = 0, t = 0; a < span; a += 2, to += 8, t += 6) {
    const aRe = x[a]!;
    const aIm = x[a + 1]!;
    const bRe = x[a + span]!;
    const bIm = x[a + span + 1]!;
    const cRe = x[a + 2 * span]!;
    const cIm = x[a + 2 * span + 1]!;
    const dRe = x[a + 3 * span]!;
    const dIm = x[a + 3 * span + 1]!;
    const sumRe = aRe + cRe;
    const sumIm = aIm + cIm;
    const difRe = aRe - cRe;
    const difIm = aIm - cIm;
    const evenRe = bRe + dRe;
    const evenIm = bIm + dIm;
    const oddRe = bRe - dRe;
    const oddIm = bIm - dIm;
    const uRe = difRe + oddIm;
    const uIm = difIm - oddRe;
    const vRe = sumRe - evenRe;
    const vIm = sumIm - evenIm;
    const wRe = difRe - oddIm;
    const wIm = difIm + oddRe;
    y[to] = sumRe + evenRe;
    y[to + 1] = sumIm + evenIm;
    y[to + 2] = uRe * w[t]! - uIm * w[t + 1]!;
    y[to + 3] = uRe * w[t + 1]! + uIm * w[t]!;
    y[to + 4] = vRe * w[t + 2]! - vIm * w[t + 3]!;
    y[to + 5] = vRe * w[t + 3]! + vIm * w[t + 2]!;
    y[to + 6] = wRe * w[t + 4]! - wIm * w[t + 5]!;
    y[to + 7] = wRe * w[t + 5]! + wIm * w[t + 4]!;
  }
}

/** `stride` interleaved transforms of `length` each become four times as many, a quarter long. */
function pass(
  x: Float64Array,
  y: Float64Array,
  w: Float64Array,
  length: number,
  stride: number,
): void {
  const step = stride << 1;
  const span = (length >> 2) * step;
  for (
    let t = 0, first = 0, firstTo = 0;
    first < span;
    t += 6, first += step, firstTo += 4 * step
  ) {
    const c1 = w[t]!;
    const s1 = w[t + 1]!;
    const c2 = w[t + 2]!;
    const s2 = w[t + 3]!;
    const c3 = w[t + 4]!;
    const s3 = w[t + 5]!;
    for (let a = first, to = firstTo; a < first + step; a += 2, to += 2) {
      const aRe = x[a]!;
      const aIm = x[a + 1]!;
      const bRe = x[a + span]!;
      const bIm = x[a + span + 1]!;
      const cRe = x[a + 2 * span]!;
      const cIm = x[a + 2 * span + 1]!;
      const dRe = x[a + 3 * span]!;
      const dIm = x[a + 3 * span + 1]!;
      const sumRe = aRe + cRe;
      const sumIm = aIm + cIm;
      const difRe = aRe - cRe;
      const difIm = aIm - cIm;
      const evenRe = bRe + dRe;
      const evenIm = bIm + dIm;
      const oddRe = bRe - dRe;
      const oddIm = bIm - dIm;
      const uRe = difRe + oddIm;
      const uIm = difIm - oddRe;
      const vRe = sumRe - evenRe;
      const vIm = sumIm - evenIm;
      const wRe = difRe - oddIm;
      const wIm = difIm + oddRe;
      y[to] = sumRe + evenRe;
      y[to + 1] = sumIm + evenIm;
      y[to + step] = uRe * c1 - uIm * s1;
      y[to + step + 1] = uRe * s1 + uIm * c1;
      y[to + 2 * step] = vRe * c2 - vIm * s2;
      y[to + 2 * step + 1] = vRe * s2 + vIm * c2;
      y[to + 3 * step] = wRe * c3 - wIm * s3;
      y[to + 3 * step + 1] = wRe * s3 + wIm * c3;
    }
  }
}

/** The pass of length four: all its twiddles are one. */
function lastFour(x: Float64Array, y: Float64Array, stride: number): void {
  const step = stride << 1;
  for (let a = 0; a < step; a += 2) {
    const aRe = x[a]!;
    const aIm = x[a + 1]!;
    const bRe = x[a + step]!;
    const bIm = x[a + step + 1]!;
    const cRe = x[a + 2 * step]!;
    const cIm = x[a + 2 * step + 1]!;
    const dRe = x[a + 3 * step]!;
    const dIm = x[a + 3 * step + 1]!;
    const sumRe = aRe + cRe;
    const sumIm = aIm + cIm;
    const difRe = aRe - cRe;
    const difIm = aIm - cIm;
    const evenRe = bRe + dRe;
    const evenIm = bIm + dIm;
    const oddRe = bRe - dRe;
    const oddIm = bIm - dIm;
    y[a] = sumRe + evenRe;
    y[a + 1] = sumIm + evenIm;
    y[a + step] = difRe + oddIm;
    y[a + step + 1] = difIm - oddRe;
    y[a + 2 * step] = sumRe - evenRe;
    y[a + 2 * step + 1] = sumIm - evenIm;
    y[a + 3 * step] = difRe - oddIm;
    y[a + 3 * step + 1] = difIm + oddRe;
  }
}

function lastTwo(x: Float64Array, y: Float64Array, stride: number): void {
  const step = stride << 1;
  for (let a = 0; a < step; a++) {
    const first = x[a]!;
    const second = x[a + step]!;
    y[a] = first + second;
    y[a + step] = first - second;
  }
}

/** Parts the transforms of even and odd samples by symmetry and joins them with one twiddle. */
function untangle(
  z: Float64Array,
  w: Float64Array,
  half: number,
  re: Float64Array,
  im: Float64Array,
): void {
  re[0] = z[0]! + z[1]!;
  im[0] = 0;
  re[half] = z[0]! - z[1]!;
  im[half] = 0;
  for (let k = 1, m = half - 1; k <= m; k++, m--) {
    const evenRe = (z[2 * k]! + z[2 * m]!) * 0.5;
    const evenIm = (z[2 * k + 1]! - z[2 * m + 1]!) * 0.5;
    const oddRe = z[2 * k + 1]! + z[2 * m + 1]!;
    const oddIm = z[2 * m]! - z[2 * k]!;
    const turnRe = oddRe * w[2 * k]! - oddIm * w[2 * k + 1]!;
    const turnIm = oddRe * w[2 * k + 1]! + oddIm * w[2 * k]!;
    re[k] = evenRe + turnRe;
    im[k] = evenIm + turnIm;
    re[m] = evenRe - turnRe;
    im[m] = turnIm - evenIm;
  }
}
