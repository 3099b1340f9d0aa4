import type { Volts } from '../units.ts';
import type { HalfCycleRow } from './row.ts';

/** One step of a first-order filter of one minute at 200 ms (IEC 61000-4-30, 5.4.4): 0.0033. */
const gain = 0.0033;

/**
 * Sliding reference voltage of each channel: the 10/12-cycle r.m.s. through a one-minute filter,
 * held while a dip, swell or interruption touches the interval. It starts from a given voltage.
 */
export class SlidingReference {
  readonly volts: Float64Array;
  readonly #squares: Float64Array;
  #samples = 0.0;
  #halves = 0;
  #flagged = false;

  constructor(pairs: number, startVolts: Volts) {
    this.volts = new Float64Array(pairs).fill(startVolts);
    this.#squares = new Float64Array(pairs);
  }

  take(row: HalfCycleRow, flagged: boolean): void {
    const length = row.end - row.middle;
    this.#flagged ||= flagged;
    this.#samples += length;
    for (let pair = 0; pair < this.volts.length; pair++) {
      this.#squares[pair] = this.#squares[pair]! + length * row.uhalf[pair]! ** 2;
    }
    this.#halves += 1;
    if (this.#halves < (row.hertz < 55 ? 20 : 24)) return;
    for (let pair = 0; pair < this.volts.length; pair++) {
      const rms = Math.sqrt(this.#squares[pair]! / this.#samples);
      const old = this.volts[pair]!;
      if (!this.#flagged) this.volts[pair] = old + gain * (rms - old);
      this.#squares[pair] = 0;
    }
    this.#samples = 0;
    this.#halves = 0;
    this.#flagged = false;
  }
}
