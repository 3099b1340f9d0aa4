import { assert } from '../assert.ts';
import type { SampleIndex } from '../units.ts';
import { columns } from './columns.ts';
import type { HalfCycleRow } from './row.ts';

const noColumn = new Float64Array(0);
/** Samples between two half cycles that follow on each other: what rounding leaves. */
const touching = 0.6;

/**
 * The newest half cycles in columns, a ring. Entry n (counted from the stream's first) stands at
 * slot n mod size; one column a quantity, pairs side by side.
 */
export class HalfCycleHistory {
  readonly size: number;
  readonly pairs: number;
  start!: Float64Array;
  end!: Float64Array;
  /** Samples lost in the stream before this half cycle, all together. */
  lost!: Float64Array;
  /**
   * Mean squares and means over the half cycle; square of Urms(1/2) ending with it, infinite where
   * there is none, not a number where the entry is an edge, no half cycle.
   */
  uu!: Float64Array;
  ii!: Float64Array;
  ui!: Float64Array;
  urmsSquare!: Float64Array;
  count = 0;
  /** First entry since the columns were last given back, and what was lost before it. */
  #from = 0;
  #lostBefore = 0.0;

  constructor(size: number, pairs: number) {
    assert(size > 0 && pairs > 0, 'a history holds something');
    this.size = size;
    this.pairs = pairs;
    this.#take();
  }

  get oldest(): number {
    return Math.max(this.#from, this.count - this.size);
  }

  /** End of the newest entry; minus infinity where there is none. */
  get newestEnd(): SampleIndex {
    return this.count > this.#from ? this.endOf(this.count - 1) : Number.NEGATIVE_INFINITY;
  }

  /** Forgets all entries and gives their room back until the next comes: rests last for hours. */
  release(): void {
    if (this.start.length === 0) return;
    if (this.count > this.#from) this.#lostBefore = this.lost[this.slot(this.count - 1)]!;
    this.#from = this.count;
    this.start = this.end = this.lost = this.uu = this.ii = this.ui = this.urmsSquare = noColumn;
  }

  /** Samples lost in the stream before the entry that precedes `n`. */
  lostBefore(n: number): number {
    return n > this.#from ? this.lost[this.slot(n - 1)]! : this.#lostBefore;
  }

  /** Whether the stream, or a stretch of it after a gap, begins with entry `n`. */
  opens(n: number): boolean {
    return n === this.#from || this.start[this.slot(n)]! > this.endOf(n - 1) + touching;
  }

  slot(n: number): number {
    return n % this.size;
  }

  endOf(n: number): SampleIndex {
    return this.end[this.slot(n)]!;
  }

  isEdge(n: number): boolean {
    return Number.isNaN(this.urmsSquare[this.slot(n) * this.pairs]!);
  }

  /** Adds a row's newest half cycle; after the stream's start or a gap its first one too. */
  add(row: HalfCycleRow, lost: number): void {
    const half = row.end - row.middle;
    if (Math.abs(row.middle - this.newestEnd) > 0.25 * half) this.#addFirst(row, lost);
    const slot = this.#open(row.middle, row.end, lost);
    for (let pair = 0; pair < this.pairs; pair++) {
      const at = slot * this.pairs + pair;
      this.uu[at] = row.uhalf[pair]! ** 2;
      this.ii[at] = row.ihalf[pair]! ** 2;
      this.ui[at] = row.whalf[pair]!;
      this.urmsSquare[at] = row.urms[pair]! ** 2;
    }
  }

  /** Adds the part of a half cycle at a stretch's edge. It is in no window and has no Urms(1/2). */
  addEdge(row: HalfCycleRow, lost: number): void {
    this.add({ ...row, start: row.middle }, lost);
    const slot = this.slot(this.count - 1);
    this.urmsSquare.fill(Number.NaN, slot * this.pairs, (slot + 1) * this.pairs);
  }

  #addFirst(row: HalfCycleRow, lost: number): void {
    const first = row.middle - row.start;
    if (first <= 0) return;
    const half = row.end - row.middle;
    const whole = first + half;
    const slot = this.#open(row.start, row.middle, lost);
    for (let pair = 0; pair < this.pairs; pair++) {
      const at = slot * this.pairs + pair;
      const rest = (all: number, newest: number) => (all * whole - newest * half) / first;
      this.uu[at] = Math.max(0, rest(row.urms[pair]! ** 2, row.uhalf[pair]! ** 2));
      this.ii[at] = Math.max(0, rest(row.irms[pair]! ** 2, row.ihalf[pair]! ** 2));
      this.ui[at] = rest(row.watts[pair]!, row.whalf[pair]!);
      this.urmsSquare[at] = Number.POSITIVE_INFINITY;
    }
  }

  #take(): void {
    const single = columns(3, this.size);
    this.start = single();
    this.end = single();
    this.lost = single();
    const paired = columns(4, this.size * this.pairs);
    this.uu = paired();
    this.ii = paired();
    this.ui = paired();
    this.urmsSquare = paired();
  }

  #open(start: SampleIndex, end: SampleIndex, lost: number): number {
    if (this.start.length === 0) this.#take();
    const slot = this.slot(this.count);
    this.start[slot] = start;
    this.end[slot] = end;
    this.lost[slot] = lost;
    this.count += 1;
    return slot;
  }
}
