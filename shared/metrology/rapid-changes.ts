import type { Fraction, Hertz, SampleIndex, Seconds, Volts } from '../units.ts';
import type { ChannelReading, HalfCycleRow, HalfCycleSink } from './row.ts';

/** A rapid voltage change, after IEC 61000-4-30 (5.11; the rules here are from memory). */
export interface RapidChange {
  /** Counted from 0. */
  channel: number;
  start: SampleIndex;
  end: SampleIndex;
  seconds: Seconds;
  /** Largest distance from the steady voltage before. */
  maxVolts: Volts;
  /** Steady voltage after, less that before. */
  steadyVolts: Volts;
}

export interface RapidChangeOptions {
  rateHz: Hertz;
  pairs: number;
  declaredVolts: Volts;
  nominalHertz: 50 | 60;
  /** Share of the declared voltage, 0.01 to 0.06; its half is the hysteresis. */
  threshold?: Fraction;
}

/**
 * Tells changes between two steady voltages: a second of Urms(1/2) values within the threshold of
 * their mean is steady. A change with a dip or swell inside is thrown away: say so with `spoil`.
 */
export class RapidChanges implements HalfCycleSink {
  readonly #told: (change: RapidChange) => void;
  readonly #rateHz: Hertz;
  readonly #channels: readonly Channel[];

  constructor(options: RapidChangeOptions, told: (change: RapidChange) => void) {
    this.#told = told;
    this.#rateHz = options.rateHz;
    const volts = (options.threshold ?? 0.03) * options.declaredVolts;
    const values = 2 * options.nominalHertz;
    this.#channels = Array.from({ length: options.pairs }, () => new Channel(values, volts));
  }

  halfCycle(row: HalfCycleRow): void {
    for (let pair = 0; pair < this.#channels.length; pair++) {
      this.#take(pair, row.urms[pair]!, row.middle);
    }
  }

  /** One channel on its own crossings: instead of rows, never beside them. */
  channel(reading: ChannelReading): void {
    this.#take(reading.pair, reading.urms, reading.middle);
  }

  /** A dip or swell lasts: the changes under way are part of it. */
  spoil(): void {
    for (const channel of this.#channels) channel.spoilt = true;
  }

  #take(pair: number, volts: Volts, at: SampleIndex): void {
    const channel = this.#channels[pair]!;
    if (!channel.take(volts, at)) return;
    const { start, end, largest, steady } = channel;
    const seconds = (end - start) / this.#rateHz;
    this.#told({ channel: pair, start, end, seconds, maxVolts: largest, steadyVolts: steady });
  }
}

class Channel {
  spoilt = false;
  start = 0.0;
  end = 0.0;
  largest = 0.0;
  steady = 0.0;
  readonly #values: Float64Array;
  readonly #times: Float64Array;
  readonly #threshold: Volts;
  #count = 0;
  #changing = true;
  #known = false;
  #before = 0.0;

  constructor(values: number, threshold: Volts) {
    this.#values = new Float64Array(values);
    this.#times = new Float64Array(values);
    this.#threshold = threshold;
  }

  /** True when a change has ended and counts. */
  take(volts: Volts, at: SampleIndex): boolean {
    const full = this.#count >= this.#values.length;
    if (!this.#changing && full) {
      const mean = this.#mean();
      if (Math.abs(volts - mean) > this.#threshold) {
        this.#changing = true;
        this.#before = mean;
        this.start = at;
        this.largest = 0;
      }
    }
    const slot = this.#count % this.#values.length;
    this.#values[slot] = volts;
    this.#times[slot] = at;
    this.#count += 1;
    if (!this.#changing) {
      this.spoilt = false;
      return false;
    }
    this.largest = Math.max(this.largest, Math.abs(volts - this.#before));
    if (this.#count < this.#values.length) return false;
    return this.#settles();
  }

  /** Steady again when all of the last second lies within the narrower band around its mean. */
  #settles(): boolean {
    const mean = this.#mean();
    // The hysteresis is half the threshold; a first second has none to overcome.
    const band = this.#known ? this.#threshold / 2 : this.#threshold;
    for (let k = 0; k < this.#values.length; k++) {
      if (Math.abs(this.#values[k]! - mean) > band) return false;
    }
    const counts = this.#known && !this.spoilt;
    this.#changing = false;
    this.#known = true;
    this.spoilt = false;
    this.end = Math.max(this.start, this.#times[this.#count % this.#values.length]!);
    this.steady = mean - this.#before;
    return counts;
  }

  #mean(): Volts {
    let sum = 0.0;
    for (let k = 0; k < this.#values.length; k++) sum += this.#values[k]!;
    return sum / this.#values.length;
  }
}
