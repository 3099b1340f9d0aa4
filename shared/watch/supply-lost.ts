import type { HalfCycleRow } from '../metrology/row.ts';
import type { SupplyLost } from '../rules/facts.ts';
import type { Amperes, Hertz, SampleIndex, Seconds } from '../units.ts';

/** Least current over idle that is a load and no offset: common practice, no source. */
const leastLoad: Amperes = 4;
/** A load that ended this long before the voltage went is the one that went with it: the last
 * cycle of current may be cut off before the voltage is seen to be gone. */
const justBefore: Seconds = 0.1;

/**
 * A voltage that vanished with current just before: what is seen of a breaker that trips, and of a
 * fuse, a plug that is pulled, and the utility. Which of them it was no sensor sees.
 */
export class SupplyLostLog {
  readonly #rateHz: Hertz;
  readonly #pairs: number;
  #count = 0;
  #last: SupplyLost['last'] | null = null;
  /** The load that lasts or lasted: its border samples, the sum of its squares, its half cycles. */
  #from: SampleIndex = 0;
  #to: SampleIndex = Number.NEGATIVE_INFINITY;
  #squares = 0.0;
  #halves = 0;
  #loaded = false;

  constructor(rateHz: Hertz, pairs: number) {
    this.#rateHz = rateHz;
    this.#pairs = pairs;
  }

  /** Line amperes of the most loaded measured pair are what a breaker's pole carries. */
  halfCycle(row: HalfCycleRow, idle: Amperes): void {
    let amps = 0;
    for (let pair = 0; pair < this.#pairs; pair++) amps = Math.max(amps, row.ihalf[pair]!);
    const loaded = amps >= idle + leastLoad;
    if (loaded && !this.#loaded) {
      this.#from = row.middle;
      this.#squares = this.#halves = 0;
    }
    this.#loaded = loaded;
    if (!loaded) return;
    this.#to = row.end;
    this.#squares += amps * amps;
    this.#halves += 1;
  }

  /** Every voltage of the sensor is gone from here on. */
  interrupted(start: SampleIndex): void {
    if (this.#halves === 0 || start > this.#to + justBefore * this.#rateHz) return;
    this.#count += 1;
    this.#last = {
      atS: start / this.#rateHz,
      amps: Math.sqrt(this.#squares / this.#halves),
      afterS: Math.max(0, start - this.#from) / this.#rateHz,
    };
    this.#halves = 0;
    this.#loaded = false;
  }

  evidence(): SupplyLost | null {
    return this.#last && { count: this.#count, last: this.#last };
  }
}
