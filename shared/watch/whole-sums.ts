import type { WholeFigures } from '../protocol/judgement.ts';

/** Samples a part sum takes before it joins the total: keeps rounding far from the figures. */
const partFrames = 4096;

/** Sums of v², i² and v·i over every sample of a stream. */
export class WholeSums {
  readonly #pairs: number;
  /** Totals, three a pair. */
  readonly #sums: Float64Array;
  #frames = 0;

  constructor(pairs: number) {
    this.#pairs = pairs;
    this.#sums = new Float64Array(3 * pairs);
  }

  get frames(): number {
    return this.#frames;
  }

  push(channels: readonly Float64Array[], frames: number): void {
    this.#frames += frames;
    for (let pair = 0; pair < this.#pairs; pair++) {
      const volts = channels[2 * pair]!;
      const amps = channels[2 * pair + 1]!;
      for (let from = 0; from < frames; from += partFrames)
        this.#part(volts, amps, from, Math.min(frames, from + partFrames), 3 * pair);
    }
  }

  figures(): WholeFigures[] {
    return Array.from({ length: this.#pairs }, (_, pair) => {
      const mean = (at: number) =>
        this.#frames > 0 ? this.#sums[3 * pair + at]! / this.#frames : 0;
      const volts = Math.sqrt(mean(0));
      const amps = Math.sqrt(mean(1));
      const apparent = volts * amps;
      return { volts, amps, watts: mean(2), powerFactor: apparent > 0 ? mean(2) / apparent : null };
    });
  }

  #part(volts: Float64Array, amps: Float64Array, from: number, to: number, at: number): void {
    let vv = 0.0;
    let ii = 0.0;
    let vi = 0.0;
    for (let n = from; n < to; n++) {
      const v = volts[n]!;
      const i = amps[n]!;
      vv += v * v;
      ii += i * i;
      vi += v * i;
    }
    this.#sums[at] = this.#sums[at]! + vv;
    this.#sums[at + 1] = this.#sums[at + 1]! + ii;
    this.#sums[at + 2] = this.#sums[at + 2]! + vi;
  }
}
