import type { Hertz, Volts } from '../units.ts';

/** One step of a first-order filter of one minute at 200 ms (IEC 61000-4-30, 5.4.4): 0.0033. */
const gain = 0.0033;

/**
 * Sliding reference voltage of each channel: the 10/12-cycle r.m.s. through a one-minute filter,
 * held while a dip, swell or interruption touches the interval. It starts from a given voltage.
 */
export class SlidingReference {
  readonly volts: Float64Array;
  readonly #squares: Float64Array;
  readonly #samples: Float64Array;
  readonly #halves: Uint8Array;
  readonly #flagged: Uint8Array;

  constructor(pairs: number, startVolts: Volts) {
    this.volts = new Float64Array(pairs).fill(startVolts);
    this.#squares = new Float64Array(pairs);
    this.#samples = new Float64Array(pairs);
    this.#halves = new Uint8Array(pairs);
    this.#flagged = new Uint8Array(pairs);
  }

  /** One half cycle of a channel, `length` samples long. */
  take(pair: number, uhalf: Volts, length: number, hertz: Hertz, flagged: boolean): void {
    if (flagged) this.#flagged[pair] = 1;
    this.#samples[pair] = this.#samples[pair]! + length;
    this.#squares[pair] = this.#squares[pair]! + length * uhalf ** 2;
    this.#halves[pair] = this.#halves[pair]! + 1;
    if (this.#halves[pair]! < (hertz < 55 ? 20 : 24)) return;
    const rms = Math.sqrt(this.#squares[pair]! / this.#samples[pair]!);
    const old = this.volts[pair]!;
    if (this.#flagged[pair] === 0) this.volts[pair] = old + gain * (rms - old);
    this.#squares[pair] = 0;
    this.#samples[pair] = 0;
    this.#halves[pair] = 0;
    this.#flagged[pair] = 0;
  }
}
