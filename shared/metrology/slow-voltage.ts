import type { SampleWindow } from './sample-window.ts';

/**
 * One voltage channel in sums over groups of samples: what the sync looks at, at a twentieth or so
 * of a cycle apiece. Groups begin at multiples of `group` positions, so they are the same however
 * the stream was cut. `values[g − origin]` is group g.
 */
export class SlowVoltage {
  readonly group: number;
  values: Float64Array;
  /** The first group held, and the one after the newest. */
  origin = 0;
  end = 0;
  pair = 0;
  readonly #window: SampleWindow;
  readonly #slots: number;

  /** @param slots room for what is looked back at and all that the window brings at once. */
  constructor(window: SampleWindow, group: number, slots: number) {
    this.#window = window;
    this.group = group;
    this.#slots = slots;
    this.values = new Float64Array(slots);
  }

  clear(): void {
    this.origin = 0;
    this.end = 0;
  }

  /** Forgets everything, and the storage with it until the next group. */
  release(): void {
    this.clear();
    this.values = new Float64Array(0);
  }

  /** Takes up `pair` from group `from` on, as far as the window still has it. */
  reread(pair: number, from: number): void {
    this.pair = pair;
    this.origin = Math.max(from, Math.ceil(this.#window.origin / this.group));
    this.end = this.origin;
    this.take(this.origin);
  }

  /** Takes all groups that are whole now; groups before `keepFrom` may go when room is short. */
  take(keepFrom: number): void {
    if (this.values.length === 0) this.values = new Float64Array(this.#slots);
    const { group, values } = this;
    const end = Math.floor(this.#window.end / group);
    if (end - this.origin > values.length) this.#drop(keepFrom);
    const column = this.#window.columns[2 * this.pair]!;
    let k = this.end * group - this.#window.origin;
    for (let n = this.end - this.origin; n < end - this.origin; n++) {
      // Two sums, because one waits for its last addition.
      let even = 0.0;
      let odd = 0.0;
      const stop = k + group;
      for (; k < stop - 1; k += 2) {
        even += column[k]!;
        odd += column[k + 1]!;
      }
      if (k < stop) even += column[k++]!;
      values[n] = even + odd;
    }
    this.end = end;
  }

  #drop(keepFrom: number): void {
    const used = Math.max(0, Math.min(keepFrom, this.end) - this.origin);
    this.values.copyWithin(0, used, this.end - this.origin);
    this.origin += used;
  }
}
