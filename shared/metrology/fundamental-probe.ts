import type { Hertz } from '../units.ts';

/** Cycles that a window spans: a Hann window of two has its nulls at DC and at every harmonic. */
const windowCycles = 2;

/**
 * Measures the fundamental around one sample: x ≈ cosine·cos(ωm) + sine·sin(ωm), m counted from
 * that sample, through a Hann window two cycles long. DC, harmonics and the image at −ω fall into
 * the window's nulls; notches and arc noise are averaged over some forty samples.
 */
export class FundamentalProbe {
  /** Samples on each side of the middle one that a measurement reads. */
  reach = 0;
  cosine = 0;
  sine = 0;
  readonly #rateHz: Hertz;
  readonly #cosines: Float64Array;
  readonly #sines: Float64Array;
  readonly #weights: Float64Array;
  #tunedHertz = 0;

  /** @param lowestHertz sets the size of the tables: the longest window ever asked for. */
  constructor(rateHz: Hertz, lowestHertz: Hertz) {
    const taps = Math.ceil(((windowCycles / 2) * rateHz) / lowestHertz) + 1;
    this.#rateHz = rateHz;
    this.#cosines = new Float64Array(taps);
    this.#sines = new Float64Array(taps);
    this.#weights = new Float64Array(taps);
  }

  get tunedHertz(): Hertz {
    return this.#tunedHertz;
  }

  tune(hertz: Hertz): void {
    if (hertz === this.#tunedHertz) return;
    this.#tunedHertz = hertz;
    const half = ((windowCycles / 2) * this.#rateHz) / hertz;
    this.reach = Math.min(Math.ceil(half) - 1, this.#weights.length - 1);
    let total = 0.5;
    for (let m = 1; m <= this.reach; m++) total += Math.cos((Math.PI * m) / (2 * half)) ** 2;
    for (let m = 0; m <= this.reach; m++) {
      const weight = Math.cos((Math.PI * m) / (2 * half)) ** 2 / total;
      const angle = (2 * Math.PI * hertz * m) / this.#rateHz;
      this.#weights[m] = weight;
      this.#cosines[m] = weight * Math.cos(angle);
      this.#sines[m] = weight * Math.sin(angle);
    }
  }

  /** Needs `reach` samples of `x` on both sides of index `at`. Two turns in one: sums need time. */
  measure(x: Float64Array, at: number): void {
    const cosines = this.#cosines;
    const sines = this.#sines;
    const reach = this.reach;
    let even0 = x[at]! * cosines[0]!;
    let even1 = 0.0;
    let odd0 = 0.0;
    let odd1 = 0.0;
    let m = 1;
    for (; m < reach; m += 2) {
      const a0 = x[at + m]!;
      const b0 = x[at - m]!;
      const a1 = x[at + m + 1]!;
      const b1 = x[at - m - 1]!;
      even0 += cosines[m]! * (a0 + b0);
      odd0 += sines[m]! * (a0 - b0);
      even1 += cosines[m + 1]! * (a1 + b1);
      odd1 += sines[m + 1]! * (a1 - b1);
    }
    if (m === reach) {
      even0 += cosines[m]! * (x[at + m]! + x[at - m]!);
      odd0 += sines[m]! * (x[at + m]! - x[at - m]!);
    }
    this.cosine = even0 + even1;
    this.sine = odd0 + odd1;
  }

  get amplitude(): number {
    return Math.sqrt(this.cosine * this.cosine + this.sine * this.sine);
  }

  /**
   * Share of the alternating energy around `at` that the fundamental just measured there explains:
   * near 1 for a supply however distorted, near 0 for noise, whatever the scale.
   */
  coherence(x: Float64Array, at: number): number {
    let mean = x[at]! * this.#weights[0]!;
    let square = x[at]! ** 2 * this.#weights[0]!;
    for (let m = 1; m <= this.reach; m++) {
      const a = x[at + m]!;
      const b = x[at - m]!;
      mean += this.#weights[m]! * (a + b);
      square += this.#weights[m]! * (a * a + b * b);
    }
    // The weights sum to two over both sides.
    const alternating = square / 2 - (mean / 2) ** 2;
    const explained = (this.cosine * this.cosine + this.sine * this.sine) / 2;
    return alternating > 0 ? explained / alternating : 0;
  }
}
