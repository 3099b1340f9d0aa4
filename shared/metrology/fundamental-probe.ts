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

  /** Needs `reach` samples of `x` on both sides of index `at`. */
  measure(x: Float64Array, at: number): void {
    const cosines = this.#cosines;
    const sines = this.#sines;
    let even = x[at]! * cosines[0]!;
    let odd = 0.0;
    for (let m = 1, after = at + 1, before = at - 1; m <= this.reach; m++, after++, before--) {
      const a = x[after]!;
      const b = x[before]!;
      even += cosines[m]! * (a + b);
      odd += sines[m]! * (a - b);
    }
    this.cosine = even;
    this.sine = odd;
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
