import type { EpochMicros, Hertz, SampleIndex } from '../units.ts';
import type { FrequencyRow, FrequencySink } from './interval-row.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';
import { Ticks } from './ticks.ts';

const TEN_SECONDS = 10;
/** Borders that differ by less, in samples, are the same one. */
const SAME_BORDER = 1e-3;

export interface FrequencySetup {
  rateHz: Hertz;
  /** Time of sample 0; null: ten seconds are counted from there. */
  startedAt: EpochMicros | null;
}

/**
 * Power frequency after IEC 61000-4-30, 5.1: the whole cycles inside each 10 s of the clock over
 * the time that they took; a cycle that lies across a tick counts for neither side. Borders are
 * those of the cycle sync, found on the fundamental, so harmonics add no crossings.
 */
export class Frequency10s implements HalfCycleSink {
  private readonly rateHz: Hertz;
  private readonly sink: FrequencySink;
  private readonly ticks: Ticks;
  private readonly row: FrequencyRow;
  private tick = NaN;
  /** Where the next whole cycle of this interval begins. */
  private border = NaN;
  private lastBorder = NaN;
  private cycles = 0;
  private time = 0.0;
  private flagged = false;
  private whole = false;

  constructor(setup: FrequencySetup, sink: FrequencySink) {
    this.rateHz = setup.rateHz;
    this.sink = sink;
    this.ticks = new Ticks(setup.rateHz, setup.startedAt, TEN_SECONDS);
    this.row = { start: 0, end: 0, hertz: NaN, cycles: 0, flagged: false, whole: false };
  }

  /** One row; `flagged` where a dip, swell or interruption goes on in its window (4.7). */
  halfCycle(row: HalfCycleRow, flagged = false): void {
    // By the middle: a stream's first border may lie a hair before its first sample.
    if (Number.isNaN(this.tick)) this.begin(this.ticks.after(row.middle), row.start);
    const runsOn = Math.abs(row.middle - this.lastBorder) < SAME_BORDER;
    if (!runsOn) {
      this.whole &&= Number.isNaN(this.lastBorder);
      this.border = row.start;
    }
    this.lastBorder = row.end;
    while (row.end > this.tick + SAME_BORDER) this.close(row);
    if (row.start >= this.border - SAME_BORDER) {
      this.cycles++;
      this.time += row.end - row.start;
      this.border = row.end;
    }
    this.flagged ||= flagged;
    this.whole &&= row.locked;
  }

  /** The interval that a tick ends; its beginning must not be missing by more than a cycle. */
  private begin(tick: SampleIndex, from: SampleIndex): void {
    const { rateHz } = this;
    this.tick = tick;
    this.cycles = 0;
    this.time = 0;
    this.flagged = false;
    this.whole = from - (tick - TEN_SECONDS * rateHz) < rateHz / 42.5;
  }

  private close(row: HalfCycleRow): void {
    this.row.start = this.tick - TEN_SECONDS * this.rateHz;
    this.row.end = this.tick;
    this.row.cycles = this.cycles;
    this.row.hertz = this.cycles > 0 ? (this.cycles * this.rateHz) / this.time : NaN;
    this.row.flagged = this.flagged;
    this.row.whole = this.whole && this.cycles > 0;
    this.sink.frequency(this.row);
    const passed = this.tick;
    this.begin(this.ticks.after(passed + SAME_BORDER), passed);
    // The cycle across the tick is nobody's: the next begins at the first border beyond it.
    const inside = passed - SAME_BORDER;
    this.border = row.start >= inside ? row.start : row.middle >= inside ? row.middle : row.end;
  }
}
