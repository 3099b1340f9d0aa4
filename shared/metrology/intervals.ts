import { assert } from '../assert.ts';
import type { EpochMicros, Hertz } from '../units.ts';
import { cyclesAt } from './harmonics.ts';
import type { IntervalRow, IntervalSink } from './interval-row.ts';
import { BasicSum, emptyIntervalRow, LongSum } from './interval-sums.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';
import { Ticks } from './ticks.ts';

const TEN_MINUTES = 600;
const BASICS_IN_THREE_SECONDS = 15;
/** At most two run (one finishes beyond a tick) and two that ended wait for late flags. */
const RING = 4;
/** Borders that differ by less, in samples, are the same one. */
const SAME_BORDER = 1e-3;

export interface IntervalsSetup {
  rateHz: Hertz;
  pairs: number;
  /** Given, or null: told by the first row's frequency. */
  nominalHertz: 50 | 60 | null;
  /** Time of sample 0; null: ten minutes are counted from there. */
  startedAt: EpochMicros | null;
}

/**
 * Aggregation after IEC 61000-4-30, 4.4 and 4.5. Half cycles that do not overlap make 10/12-cycle
 * values; fifteen of those the 150/180-cycle value; those of one clock period the 10 min value,
 * each the root of the mean of the squares below it.
 *
 * At a ten-minute tick of UTC the running 10/12-cycle interval is finished and belongs to the
 * period that ends; the next one begins at the first border at or after the tick and so overlaps
 * it (overlap 1). The running 150/180-cycle interval goes on until it has its fifteen, beside the
 * new one (overlap 2). A gap cuts what runs short: such values are told, but are not `whole`.
 *
 * Values come when a row shows that no window still reaches into them, a cycle after their end:
 * a dip that is noticed at a border flags both sides of it.
 */
export class Intervals implements HalfCycleSink {
  private readonly sink: IntervalSink;
  private readonly rateHz: Hertz;
  private readonly ticks: Ticks;
  private halvesWhole: number;
  /** Intervals in the order they began: those from `oldest` to `begun` are not told yet. */
  private readonly ring: BasicSum[];
  private oldest = 0;
  private begun = 0;
  private readonly basic: IntervalRow;
  private three: LongSum;
  private threeFinishing: LongSum;
  private readonly ten: LongSum;
  private tick = NaN;
  private lastBorder = NaN;

  constructor(setup: IntervalsSetup, sink: IntervalSink) {
    assert(setup.pairs >= 1 && setup.pairs <= 6, 'rows have one to six pairs');
    this.sink = sink;
    this.rateHz = setup.rateHz;
    this.ticks = new Ticks(setup.rateHz, setup.startedAt, TEN_MINUTES);
    this.halvesWhole = setup.nominalHertz === null ? 0 : 2 * cyclesAt(setup.nominalHertz);
    this.ring = Array.from({ length: RING }, () => new BasicSum(setup.pairs));
    this.basic = emptyIntervalRow(setup.pairs);
    this.three = new LongSum(setup.pairs);
    this.threeFinishing = new LongSum(setup.pairs);
    this.ten = new LongSum(setup.pairs);
  }

  /** One row; `flagged` where a dip, swell or interruption goes on in its window (4.7). */
  halfCycle(row: HalfCycleRow, flagged = false): void {
    const runsOn = Math.abs(row.middle - this.lastBorder) < SAME_BORDER;
    if (!runsOn) this.cut(row);
    this.tellEnded(row);
    if (!runsOn) {
      this.half(row, false);
      this.newest().whole &&= this.begun === 1;
    }
    this.half(row, true);
    this.lastBorder = row.end;
    if (flagged) this.flag(row);
  }

  /** The stream's end: tells what has ended, and what a ten-minute value holds so far. */
  finish(): void {
    this.tellEnded(null);
    this.closeTen(false);
  }

  /** Intervals that run end where the rows ended. */
  private cut(row: HalfCycleRow): void {
    for (let n = this.oldest; n < this.begun; n++) {
      const sum = this.ring[n % RING]!;
      if (sum.ended) continue;
      sum.ended = true;
      sum.whole = false;
    }
    if (this.halvesWhole === 0) this.halvesWhole = 2 * cyclesAt(row.hertz);
    if (Number.isNaN(this.tick)) {
      // By the middle: a stream's first border may lie a hair before its first sample.
      this.tick = this.ticks.after(row.middle);
      // A period whose beginning is missing by more than the first cycle is not whole.
      const late = row.start - (this.tick - TEN_MINUTES * this.rateHz);
      this.ten.whole = late <= row.end - row.start;
    }
  }

  private newest(): BasicSum {
    return this.ring[(this.begun - 1) % RING]!;
  }

  /** Adds one half cycle of a row. */
  private half(row: HalfCycleRow, newer: boolean): void {
    const start = newer ? row.middle : row.start;
    const ticked = start >= this.tick - SAME_BORDER;
    const pending = this.begun > this.oldest;
    if (ticked) {
      if (pending) this.newest().closesTen = true;
      else this.closeTen(true);
      this.tick = this.ticks.after(start + SAME_BORDER);
    }
    if (ticked || !pending || this.newest().ended) {
      this.begun++;
      this.newest().begin(start);
      this.newest().opensTen = ticked;
    }
    for (let n = this.oldest; n < this.begun; n++) {
      const sum = this.ring[n % RING]!;
      if (sum.ended) continue;
      if (newer) sum.addNewer(row);
      else sum.addOlder(row);
      sum.ended = sum.halves === this.halvesWhole;
    }
  }

  private flag(row: HalfCycleRow): void {
    for (let n = this.oldest; n < this.begun; n++) {
      const sum = this.ring[n % RING]!;
      if (sum.start < row.end - SAME_BORDER && sum.end > row.start + SAME_BORDER)
        sum.flagged = true;
    }
  }

  /** Tells what has ended before the row's window, or (without a row) all that has ended. */
  private tellEnded(row: HalfCycleRow | null): void {
    for (; this.oldest < this.begun; this.oldest++) {
      const sum = this.ring[this.oldest % RING]!;
      if (!sum.ended) return;
      if (row !== null && sum.end > row.start + SAME_BORDER) return;
      this.tell(sum);
    }
  }

  private tell(sum: BasicSum): void {
    sum.read(this.basic);
    this.sink.basic?.(this.basic);
    if (sum.opensTen) {
      const finishing = this.three;
      this.three = this.threeFinishing;
      this.threeFinishing = finishing;
      this.three.clear();
    }
    this.three.add(this.basic);
    this.closeThree(this.three);
    if (this.threeFinishing.parts > 0) {
      this.threeFinishing.add(this.basic);
      this.closeThree(this.threeFinishing);
    }
    this.ten.add(this.basic);
    if (sum.closesTen) this.closeTen(true);
  }

  private closeThree(three: LongSum): void {
    if (three.parts < BASICS_IN_THREE_SECONDS) return;
    this.sink.threeSeconds?.(three.read());
    three.clear();
  }

  private closeTen(atTick: boolean): void {
    this.ten.whole &&= atTick;
    if (this.ten.parts > 0) this.sink.tenMinutes?.(this.ten.read());
    this.ten.clear();
  }
}
