import { assert } from '../assert.ts';
import type { SampleIndex } from '../units.ts';
import type { HalfCycleRow } from './row.ts';

/**
 * The newest half cycles in columns, a ring. Entry n (counted from the stream's first) stands at
 * slot n mod size; one column a quantity, pairs side by side.
 */
export class HalfCycleHistory {
  readonly size: number;
  readonly pairs: number;
  readonly start: Float64Array;
  readonly end: Float64Array;
  /** Samples lost in the stream before this half cycle, all together. */
  readonly lost: Float64Array;
  /** Mean squares and means over the half cycle; square of Urms(1/2) ending with it. */
  readonly uu: Float64Array;
  readonly ii: Float64Array;
  readonly ui: Float64Array;
  readonly urmsSquare: Float64Array;
  count = 0;

  constructor(size: number, pairs: number) {
    assert(size > 0 && pairs > 0, 'a history holds something');
    this.size = size;
    this.pairs = pairs;
    this.start = new Float64Array(size);
    this.end = new Float64Array(size);
    this.lost = new Float64Array(size);
    this.uu = new Float64Array(size * pairs);
    this.ii = new Float64Array(size * pairs);
    this.ui = new Float64Array(size * pairs);
    this.urmsSquare = new Float64Array(size * pairs);
  }

  get oldest(): number {
    return Math.max(0, this.count - this.size);
  }

  slot(n: number): number {
    return n % this.size;
  }

  endOf(n: number): SampleIndex {
    return this.end[this.slot(n)]!;
  }

  add(row: HalfCycleRow, lost: number): void {
    const slot = this.slot(this.count);
    this.start[slot] = row.middle;
    this.end[slot] = row.end;
    this.lost[slot] = lost;
    for (let pair = 0; pair < this.pairs; pair++) {
      const at = slot * this.pairs + pair;
      this.uu[at] = row.uhalf[pair]! ** 2;
      this.ii[at] = row.ihalf[pair]! ** 2;
      this.ui[at] = row.whalf[pair]!;
      this.urmsSquare[at] = row.urms[pair]! ** 2;
    }
    this.count += 1;
  }
}
