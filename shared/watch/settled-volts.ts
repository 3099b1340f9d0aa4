import type { Volts } from '../units.ts';

/** Half cycles to a value: a second at 50 Hz. */
const halvesInValue = 100;
/** A swell or a sag of two seconds is none of the middle of five. */
const values = 5;

/**
 * What the supply has with no arc, entry by entry of a row: the middle of the last idle seconds. A
 * class of voltage is told by this; a second's swell before an arc makes no other class of it.
 */
export class SettledVolts {
  readonly #width: number;
  readonly #squares: Float64Array;
  readonly #ring: Float64Array;
  readonly #sorted = new Float64Array(values);
  #halves = 0;
  #count = 0;

  constructor(width: number) {
    this.#width = width;
    this.#squares = new Float64Array(width);
    this.#ring = new Float64Array(width * values);
  }

  /** R.m.s. of an idle half cycle, one an entry. */
  add(urms: ArrayLike<Volts>): void {
    for (let at = 0; at < this.#width; at++)
      this.#squares[at] = this.#squares[at]! + urms[at]! * urms[at]!;
    this.#halves += 1;
    if (this.#halves < halvesInValue) return;
    const slot = (this.#count % values) * this.#width;
    for (let at = 0; at < this.#width; at++)
      this.#ring[slot + at] = Math.sqrt(this.#squares[at]! / this.#halves);
    this.#squares.fill(0);
    this.#halves = 0;
    this.#count += 1;
  }

  /** Null before a whole second; of an even number the lower of the two in the middle. */
  of(entry: number): Volts | null {
    const held = Math.min(this.#count, values);
    if (held === 0) return null;
    const sorted = this.#sorted.subarray(0, held);
    for (let at = 0; at < held; at++) sorted[at] = this.#ring[at * this.#width + entry]!;
    sorted.sort();
    return sorted[(held - 1) >> 1]!;
  }
}
