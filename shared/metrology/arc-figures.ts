import type { Amperes, Fraction, Hertz, SampleIndex, Seconds, Volts, Watts } from '../units.ts';
import { ArcTotals, arcWindowSeconds } from './arc-totals.ts';
import { HalfCycleHistory } from './half-cycle-history.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';

/** One pair's figures over one arc; r.m.s. over the arc's whole half cycles. */
export interface ArcPairFigures {
  /** Over the last second before the arc with the machine idle; null where there was none. */
  idleVolts: Volts | null;
  idleAmps: Amperes | null;
  meanVolts: Volts;
  /** Lowest r.m.s. over any 200 ms inside the arc; over all of a shorter one. */
  minVolts200ms: Volts;
  /** Highest r.m.s. over any 200 ms inside the arc; over all of a shorter one. */
  maxVolts200ms: Volts;
  /** Lowest Urms(1/2). */
  minVoltsHalfCycle: Volts;
  /** Lowest Urms(1/2) of the first 200 ms. */
  minVoltsStrike: Volts;
  /** Of that same cycle; the arc's means where there was none. */
  strikeAmps: Amperes;
  strikeWatts: Watts;
  meanAmps: Amperes;
  maxAmps200ms: Amperes;
  meanWatts: Watts;
  powerFactor: number | null;
}

export interface ArcMeasured {
  start: SampleIndex;
  end: SampleIndex;
  /** Share of the arc's samples that are not in the stream. */
  lostFraction: Fraction;
  pairs: ArcPairFigures[];
}

const idleSeconds: Seconds = 1;
/** Half cycles settle into totals this late: an arc's end is told a hold time after it was. */
const settleSeconds: Seconds = 0.5;
/** Half cycles kept: the idle second, the rise's longest indecision and the settling, at 69 Hz. */
const kept = 320;
/** Parts of half cycles that make up a whole one to this share are taken for it. */
const edgeDoubt = 0.01;
/** Borders are certain to about this part of a half cycle; one cut by a border is left out. */
const borderDoubt = 0.15;

/**
 * The figures of one arc at a time. Give it every row, before the detector gets the same row, and
 * what the detector then tells. Memory is fixed; an arc may last for hours.
 */
export class ArcFigures implements HalfCycleSink {
  readonly #rateHz: Hertz;
  readonly #history: HalfCycleHistory;
  readonly #totals: ArcTotals[];
  readonly #scratch: ArcTotals[];
  #burning = false;
  /** The arc burns from a stretch's first sample on: its border has no doubt. */
  #opens = false;
  #start = 0.0;
  #previousEnd = 0.0;
  /** First entry of the history inside the arc, and the next one to settle. */
  #first = 0;
  #next = 0;
  #lost = 0.0;
  #lostBefore = 0.0;
  #hertz = 50.0;
  readonly #idle: { volts: Volts | null; amps: Amperes | null }[];

  constructor(options: { rateHz: Hertz; pairs: number }) {
    this.#rateHz = options.rateHz;
    this.#history = new HalfCycleHistory(kept, options.pairs);
    this.#totals = Array.from({ length: options.pairs }, () => new ArcTotals());
    this.#scratch = Array.from({ length: options.pairs }, () => new ArcTotals());
    this.#idle = Array.from({ length: options.pairs }, () => ({ volts: null, amps: null }));
  }

  halfCycle(row: HalfCycleRow): void {
    this.#hertz = row.hertz;
    this.#history.add(row, this.#lost);
    if (!this.#burning) return;
    const settled = row.end - settleSeconds * this.#rateHz;
    while (this.#next < this.#history.count && this.#history.endOf(this.#next) <= settled) {
      this.#settle(this.#totals, this.#next++, Number.POSITIVE_INFINITY);
    }
  }

  /** Takes the part of a half cycle at a stretch's edge. */
  edge(row: HalfCycleRow): void {
    this.#history.addEdge(row, this.#lost);
  }

  /** Tells of samples that are not in the stream. */
  skip(frames: number): void {
    this.#lost += frames;
  }

  /** Nothing comes for a while: `at` samples into the stream, gaps included. */
  rest(at: SampleIndex): void {
    // What an arc of later may still look back at stays.
    const silent = at - this.#history.newestEnd;
    if (!this.#burning && silent > idleSeconds * this.#rateHz) this.#history.release();
  }

  began(start: SampleIndex): void {
    this.#burning = true;
    this.#start = start;
    const window = Math.round(2 * arcWindowSeconds * this.#hertz);
    for (const totals of this.#totals) totals.reset(window);
    const history = this.#history;
    this.#next = history.count;
    while (this.#next > history.oldest && history.endOf(this.#next - 1) > start) this.#next--;
    this.#first = this.#next;
    const slot = history.slot(this.#next);
    this.#opens = history.opens(this.#next) && history.start[slot]! >= start - 0.6;
    this.#lostBefore = history.lostBefore(this.#next);
    this.#measureIdle();
  }

  /** The arc so far; null when none burns. */
  soFar(): ArcMeasured | null {
    return this.#burning ? this.#figures(Number.POSITIVE_INFINITY) : null;
  }

  ended(start: SampleIndex, end: SampleIndex): ArcMeasured {
    if (!this.#burning) this.began(start);
    const measured = this.#figures(end);
    this.#burning = false;
    this.#previousEnd = end;
    return measured;
  }

  #figures(end: SampleIndex): ArcMeasured {
    const history = this.#history;
    for (let pair = 0; pair < this.#scratch.length; pair++) {
      this.#scratch[pair]!.copy(this.#totals[pair]!);
    }
    let last = this.#next;
    for (; last < history.count && history.start[history.slot(last)]! < end; last++) {
      this.#settle(this.#scratch, last, end);
    }
    if (this.#edgesComplete(end)) {
      this.#add(this.#scratch, this.#first);
      this.#add(this.#scratch, history.count - 1);
    }
    // Shorter than a half cycle and its doubts: then the cut ones are all there is.
    if (this.#scratch[0]!.halves === 0) {
      for (let n = this.#next; n < last; n++) this.#add(this.#scratch, n);
    }
    const until = Math.min(end, Math.max(history.newestEnd, this.#start));
    const stop = end === Number.POSITIVE_INFINITY ? until : end;
    const lostNow = last > history.oldest ? history.lostBefore(last) : this.#lost;
    const lost = Math.max(0, lostNow - this.#lostBefore);
    return {
      start: this.#start,
      end: stop,
      lostFraction: stop > this.#start ? Math.min(1, lost / (stop - this.#start)) : 0,
      pairs: this.#scratch.map((totals, pair) => pairFigures(totals, this.#idle[pair]!)),
    };
  }

  /**
   * A part of a half cycle has no r.m.s. of its own. But where an arc fills a short record whose
   * first and last parts make up whole half cycles, its figures are those of all the samples.
   */
  #edgesComplete(end: SampleIndex): boolean {
    const history = this.#history;
    const last = history.count - 1;
    if (!this.#opens || this.#first < history.oldest || last - this.#first < 2) return false;
    if (!history.isEdge(this.#first) || !history.isEdge(last)) return false;
    if (end === Number.POSITIVE_INFINITY || end < history.endOf(last)) return false;
    const half = history.endOf(this.#first + 1) - history.endOf(this.#first);
    const halves = (history.endOf(last) - history.start[history.slot(this.#first)]!) / half;
    return Math.abs(halves - Math.round(halves)) < edgeDoubt;
  }

  #settle(into: ArcTotals[], n: number, end: SampleIndex): void {
    if (this.#history.isEdge(n)) return;
    const slot = this.#history.slot(n);
    const from = this.#history.start[slot]!;
    const to = this.#history.end[slot]!;
    const doubt = borderDoubt * (to - from);
    // Beyond the newest half cycle there is nothing that could be doubted.
    const closes = end >= this.#history.endOf(this.#history.count - 1);
    if (!this.#opens && from < this.#start + doubt) return;
    if (!closes && to > end - doubt) return;
    this.#add(into, n);
  }

  #add(into: ArcTotals[], n: number): void {
    const end = this.#history.endOf(n);
    const strikes = end <= this.#start + (arcWindowSeconds + 0.5 / this.#hertz) * this.#rateHz;
    for (let pair = 0; pair < into.length; pair++) {
      into[pair]!.add(this.#history, n, pair, strikes);
    }
  }

  /** Leaves out the half cycle next to each arc: a border may lie in it. */
  #measureIdle(): void {
    const history = this.#history;
    const earliest = Math.max(
      this.#start - idleSeconds * this.#rateHz,
      this.#previousEnd === 0 ? 0 : this.#previousEnd + this.#rateHz / this.#hertz,
    );
    const latest = this.#start - (0.5 * this.#rateHz) / this.#hertz;
    for (let pair = 0; pair < this.#idle.length; pair++) {
      let samples = 0.0;
      let uu = 0.0;
      let ii = 0.0;
      for (let n = this.#next - 1; n >= history.oldest; n--) {
        const slot = history.slot(n);
        if (history.start[slot]! < earliest) break;
        if (history.end[slot]! > latest || history.isEdge(n)) continue;
        const length = history.end[slot]! - history.start[slot]!;
        samples += length;
        uu += length * history.uu[slot * history.pairs + pair]!;
        ii += length * history.ii[slot * history.pairs + pair]!;
      }
      this.#idle[pair]!.volts = samples > 0 ? Math.sqrt(uu / samples) : null;
      this.#idle[pair]!.amps = samples > 0 ? Math.sqrt(ii / samples) : null;
    }
  }
}

function pairFigures(
  totals: ArcTotals,
  idle: { volts: Volts | null; amps: Amperes | null },
): ArcPairFigures {
  const { meanVolts, meanAmps, meanWatts } = totals;
  const finite = (value: number, other: number) => (Number.isFinite(value) ? value : other);
  const apparent = meanVolts * meanAmps;
  return {
    idleVolts: idle.volts,
    idleAmps: idle.amps,
    meanVolts,
    minVolts200ms: finite(totals.minVoltsWindow, meanVolts),
    maxVolts200ms: totals.maxVoltsWindow > 0 ? totals.maxVoltsWindow : meanVolts,
    minVoltsHalfCycle: finite(totals.minHalfCycle, meanVolts),
    minVoltsStrike: finite(totals.minStrike, meanVolts),
    strikeAmps: Number.isFinite(totals.minStrike) ? totals.strikeAmps : meanAmps,
    strikeWatts: Number.isFinite(totals.minStrike) ? totals.strikeWatts : meanWatts,
    meanAmps,
    maxAmps200ms: totals.maxAmpsWindow > 0 ? totals.maxAmpsWindow : meanAmps,
    meanWatts,
    powerFactor: apparent > 0 ? meanWatts / apparent : null,
  };
}
