import { assert } from '../assert.ts';
import type { EpochMicros, Hertz, SampleIndex, Seconds } from '../units.ts';
import { type Cascade, type Lamp, perceptionFilter, WEIGHTINGS } from './flicker-filters.ts';
import { FlickerStatistics } from './flicker-statistics.ts';
import { Ticks } from './ticks.ts';

/** Filters run at this rate or up to twice it: the bilinear transform errs by 0.15 % at 35 Hz. */
const FILTER_HERTZ = 1600;
/** Pinst is smoothed over 0.3 s; 200 readings a second are four times what the clause asks. */
const STATISTICS_HERTZ = 200;
/** Block 1: voltage is taken relative to its own slow mean (one minute from 10 to 90 %). */
const REFERENCE_SECONDS = 27.3;
/** Block 4: smoothing of the squared sensation. */
const SMOOTHING_SECONDS = 0.3;
/** The reference is gathered for a second, then the filters' onset dies away. */
const WARM_UP_SECONDS = 1;
const SETTLING_SECONDS = 10;
const SHORT_TERM_SECONDS = 600;
const SHORT_TERMS_IN_LONG = 12;

export interface FlickerSetup {
  rateHz: Hertz;
  lamp: Lamp;
  /** Time of sample 0; null: ten minutes are counted from there. */
  startedAt?: EpochMicros | null;
}

/** One ten-minute period's severity. One object is reused: copy what must outlive the call. */
export interface FlickerRow {
  /** The clock's period, in samples. */
  start: SampleIndex;
  end: SampleIndex;
  pst: number;
  /** Long-term severity of this and the eleven before, all whole; else NaN. */
  plt: number;
  /** Highest Pinst of the period. */
  pinstMax: number;
  /** False where a part of the period was not measured: a gap, or the meter's settling. */
  whole: boolean;
}

export interface FlickerSink {
  flicker(row: FlickerRow): void;
}

/**
 * Flickermeter after IEC 61000-4-15 ed. 2: relative voltage squared, weighted as lamp, eye and
 * brain do, squared and smoothed to Pinst (1 is the threshold of perception), classified over ten
 * minutes to Pst, twelve of which make Plt.
 *
 * Any rate from 2 kHz reads within the tables' tolerance. From 1 to 2 kHz it runs, but harmonics
 * of the voltage above half the rate fold onto the flicker band when squared: a guess, no more.
 */
export class Flickermeter {
  private readonly rateHz: Hertz;
  private readonly sink: FlickerSink | null;
  private readonly decimation: number;
  private readonly filterHertz: Hertz;
  private readonly filter: Cascade;
  private readonly statistics = new FlickerStatistics();
  private readonly perReading: number;
  private readonly smoothing: number;
  private readonly slowest: number;
  private readonly scale: number;
  private readonly ticks: Ticks;
  private tick: SampleIndex;
  private whole: boolean;
  private position = 0;
  private squares = 0.0;
  private inSquares = 0;
  private reference = 0.0;
  private smoothed = 0.0;
  /** Filter steps since the start or the last gap. */
  private steps = 0;
  private inReading = 0;
  private highest = 0.0;
  private readonly history = new Float64Array(SHORT_TERMS_IN_LONG).fill(NaN);
  private periods = 0;
  private readonly row: FlickerRow;

  constructor(setup: FlickerSetup, sink: FlickerSink | null = null) {
    const { rateHz, lamp } = setup;
    assert(rateHz >= 1000, 'a flickermeter needs 1000 samples a second');
    this.rateHz = rateHz;
    this.sink = sink;
    this.decimation = Math.max(1, Math.floor(rateHz / FILTER_HERTZ));
    this.filterHertz = rateHz / this.decimation;
    this.filter = perceptionFilter(this.filterHertz, lamp);
    this.perReading = Math.max(1, Math.floor(this.filterHertz / STATISTICS_HERTZ));
    this.smoothing = 1 - Math.exp(-1 / (SMOOTHING_SECONDS * this.filterHertz));
    this.slowest = 1 / (REFERENCE_SECONDS * this.filterHertz);
    this.scale = calibrate(this.filter, lamp);
    this.ticks = new Ticks(rateHz, setup.startedAt ?? null, SHORT_TERM_SECONDS);
    this.tick = this.ticks.after(0);
    this.whole = false;
    this.row = { start: 0, end: 0, pst: NaN, plt: NaN, pinstMax: NaN, whole: false };
  }

  /** Instantaneous flicker sensation; NaN until the filters have settled, 11 s. */
  get pinst(): number {
    return this.settled() ? this.smoothed : NaN;
  }

  /** Severity of the running period so far; NaN before anything is measured. */
  get pstSoFar(): number {
    return this.statistics.pst();
  }

  /** How much of the running period that stands on. */
  get secondsSoFar(): Seconds {
    return (this.statistics.samples * this.perReading) / this.filterHertz;
  }

  push(volts: Float64Array, frames: number): void {
    const { decimation } = this;
    let n = 0;
    while (n < frames) {
      const until = Math.min(frames, n + decimation - this.inSquares);
      let squares = this.squares;
      this.inSquares += until - n;
      for (; n < until; n++) squares += volts[n]! * volts[n]!;
      this.squares = squares;
      if (this.inSquares < decimation) return;
      this.squares = 0;
      this.inSquares = 0;
      this.step(squares / decimation);
    }
  }

  /** Frames that were lost: the filters start anew, the period is not whole. */
  skip(frames: number): void {
    this.position += this.inSquares + frames;
    this.squares = 0;
    this.inSquares = 0;
    this.steps = 0;
    this.smoothed = 0;
    this.filter.reset();
    this.whole = false;
    while (this.position >= this.tick) this.close();
  }

  /** The stream's end: a period that lacks less than a reading is whole. */
  end(): void {
    const reading = this.perReading * this.decimation;
    if (this.position + this.inSquares + reading > this.tick) this.close();
  }

  private settled(): boolean {
    return this.steps > (WARM_UP_SECONDS + SETTLING_SECONDS) * this.filterHertz;
  }

  /** One mean of squares through blocks 1 to 4. */
  private step(meanSquare: number): void {
    this.steps++;
    this.position += this.decimation;
    // At first a plain mean, so that the reference is right after a second and not a minute.
    const weight = Math.max(1 / this.steps, this.slowest);
    this.reference += (meanSquare - this.reference) * weight;
    if (this.steps > WARM_UP_SECONDS * this.filterHertz) {
      const relative = this.reference > 0 ? meanSquare / this.reference - 1 : 0;
      const sensed = this.filter.next(relative);
      this.smoothed += (this.scale * sensed * sensed - this.smoothed) * this.smoothing;
    }
    if (++this.inReading >= this.perReading) {
      this.inReading = 0;
      this.read();
    }
  }

  private read(): void {
    while (this.position >= this.tick) this.close();
    if (!this.settled()) return;
    this.highest = Math.max(this.highest, this.smoothed);
    this.statistics.add(this.smoothed);
  }

  private close(): void {
    const { row } = this;
    const pst = this.statistics.pst();
    this.history[this.periods % SHORT_TERMS_IN_LONG] = this.whole ? pst : NaN;
    this.periods++;
    row.start = this.tick - SHORT_TERM_SECONDS * this.rateHz;
    row.end = this.tick;
    row.pst = pst;
    row.plt = longTerm(this.history);
    row.pinstMax = this.statistics.samples > 0 ? this.highest : NaN;
    row.whole = this.whole;
    this.sink?.flicker(row);
    this.statistics.clear();
    this.highest = 0;
    this.whole = this.settled();
    this.tick = this.ticks.after(this.tick + 0.5);
  }
}

/** Cube root of the mean of the cubes; NaN where one of them is. */
function longTerm(psts: Float64Array): number {
  let cubes = 0.0;
  for (let n = 0; n < psts.length; n++) cubes += psts[n]! ** 3;
  return Math.cbrt(cubes / psts.length);
}

/**
 * Factor that makes the reference change read 1 at its peak. A change ΔV/V swings the relative
 * square by ΔV/V either way; its square has a mean of half and a ripple of twice the frequency.
 */
function calibrate(filter: Cascade, lamp: Lamp): number {
  const swing = WEIGHTINGS[lamp].reference * filter.gainAt(8.8);
  const ripple = 1 / Math.hypot(1, 2 * Math.PI * 2 * 8.8 * SMOOTHING_SECONDS);
  return 1 / ((swing * swing * (1 + ripple)) / 2);
}
