import type { LegSwing as Evidence } from '../rules/facts.ts';
import type { Volts } from '../units.ts';

/** A step of less is what a healthy neutral gives as well: 20 A over 0.03 Ω are 0.6 V. */
const leastStep: Volts = 2;

/**
 * Steps of two legs from one 200 ms value to the next, with no arc: loads on one leg lower it and,
 * through the resistance of the neutral, raise the other. What welds across both moves them alike.
 */
export class LegSwing {
  #one = Number.NaN;
  #other = Number.NaN;
  #steps = 0;
  #largest = 0.0;
  #both = 0.0;
  #ofOne = 0.0;
  #ofOther = 0.0;

  /** `quiet`: no arc burns, and nothing is missing. */
  take(one: Volts, other: Volts, quiet: boolean): void {
    const [byOne, byOther] = [one - this.#one, other - this.#other];
    this.#one = quiet ? one : Number.NaN;
    this.#other = other;
    if (!(Math.max(Math.abs(byOne), Math.abs(byOther)) > leastStep)) return;
    this.#both += byOne * byOther;
    this.#ofOne += byOne * byOne;
    this.#ofOther += byOther * byOther;
    const less = Math.min(Math.abs(byOne), Math.abs(byOther));
    if (byOne * byOther >= 0 || less <= leastStep) return;
    this.#steps += 1;
    this.#largest = Math.max(this.#largest, less);
  }

  evidence(): Evidence {
    const size = Math.sqrt(this.#ofOne * this.#ofOther);
    return {
      steps: this.#steps,
      volts: this.#largest,
      correlation: size > 0 ? this.#both / size : 0,
    };
  }
}
