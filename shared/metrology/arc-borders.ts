import type { SampleIndex } from '../units.ts';

/**
 * Places a rise inside its half cycle, or late in the one before, by their shares of the energy
 * that follows. Within 0.17 of a half cycle for a sine, 0.37 for a rectifier's narrow pulses.
 */
export class RiseBorder {
  #start = 0.0;
  #span = 0.0;
  /** Mean squares of the half cycle before, of the first that rose, and of the next two. */
  readonly #squares = new Float64Array(4);
  #count = 0;

  /** Marks the first half cycle that rose, `start` long by `span`. */
  mark(start: SampleIndex, span: number, squareBefore: number): void {
    this.#start = start;
    this.#span = span;
    this.#squares[0] = squareBefore;
    this.#count = 1;
  }

  /** Takes the mean squares of the half cycles from the marked one on; two after it are enough. */
  take(square: number): void {
    if (this.#count < 4) this.#squares[this.#count++] = square;
  }

  get start(): SampleIndex {
    return this.#start;
  }

  place(floor: number): SampleIndex {
    const full = (this.#squares[2]! + this.#squares[3]!) / 2;
    const first = share(this.#squares[1]!, floor, full);
    const before = first > 0.8 ? share(this.#squares[0]!, floor, full) : 0;
    return this.#start + (1 - first - before) * this.#span;
  }
}

/** Places a fall inside the first low half cycle, or late in the last high one. */
export class FallBorder {
  #start = 0.0;
  #span = 0.0;
  #square = 0.0;
  #high = 0.0;
  #before = 0.0;
  /** Energy and length of the low half cycles after the first. */
  #energy = 0.0;
  #length = 0.0;
  #known = false;

  /** Marks the first low half cycle; `recent` are the mean squares before it, newest first. */
  mark(start: SampleIndex, span: number, square: number, recent: Float64Array): void {
    this.#start = start;
    this.#span = span;
    this.#square = square;
    this.#high = recent[0]!;
    this.#before = (recent[1]! + recent[2]!) / 2;
    this.#energy = 0;
    this.#length = 0;
    this.#known = false;
  }

  /** Says where it fell: the stream has a gap there. */
  know(at: SampleIndex): void {
    this.#start = at;
    this.#known = true;
  }

  take(square: number, span: number): void {
    this.#energy += span * square;
    this.#length += span;
  }

  /** Mean square after the first low half cycle; `idle` until there is a second. */
  floor(idle: number): number {
    return this.#length > 0 ? this.#energy / this.#length : idle;
  }

  place(idle: number): SampleIndex {
    if (this.#known) return this.#start;
    const floor = this.floor(idle);
    const first = share(this.#square, floor, this.#before);
    const missing = first < 0.2 ? 1 - share(this.#high, floor, this.#before) : 0;
    return this.#start + (first - missing) * this.#span;
  }
}

/**
 * Share of a half cycle that was at `full` when the rest was at `floor`, from its mean square. A
 * sine's energy is not even over time: that costs at most 0.17 of a half cycle, and a level that is
 * off by some percent costs no more than that, which the exact inverse could not say.
 */
function share(square: number, floor: number, full: number): number {
  return full > floor ? Math.min(1, Math.max(0, (square - floor) / (full - floor))) : 1;
}
