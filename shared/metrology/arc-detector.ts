import { assert } from '../assert.ts';
import type { Amperes, Hertz, SampleIndex, Seconds } from '../units.ts';
import { FallBorder, RiseBorder } from './arc-borders.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';

export interface ArcEvents {
  /** An arc is certain, some 80 ms after it began. */
  began(start: SampleIndex): void;
  /** It has been off for the hold time; `end` is where it went off. */
  ended(start: SampleIndex, end: SampleIndex): void;
}

export interface ArcDetectorOptions {
  rateHz: Hertz;
  /**
   * Least rise of the supply current over the idle level that can be an arc, in the rows' own unit:
   * 2 A, or that many counts. Fans, pumps and idle electronics stay under it.
   */
  leastRise?: Amperes;
  /** Entries of a row whose currents were measured, the first ones; all of them unless told. */
  pairs?: number;
}

/*
 * All of these are common practice, no source. Short-circuit transfer flutters at 20 to 200 times
 * a second (textbooks of the trade, from memory): its gaps are under 50 ms and are bridged. Tacks
 * stand further apart than that.
 */
const defaultLeastRise: Amperes = 2;
const attackSeconds: Seconds = 0.08;
const holdSeconds: Seconds = 0.1;
/** An undecided rise is idle current, or somebody's pulses, after this long. */
const undecidedSeconds: Seconds = 0.6;
/** A gap in the stream that an arc may go on through. */
const bridgedGapSeconds: Seconds = 1;
/** The level follows an arc this fast: slower than flutter, faster than a hand turns a knob. */
const levelSeconds: Seconds = 0.3;
/** Share of the attack that must be over the threshold. */
const leastShare = 0.6;
/** Four half cycles keep this share of the energy of the four before: an inrush falls faster. */
const leastKept = 0.5;
/**
 * And this share of the power of the rise's hottest four: a machine that is switched on surges, the
 * surge tails off, then its boost stage or precharge relay pulls once more. That is no arc either.
 */
const leastOfHottest = 0.55;
/** A magnetising current is reactive, an arc is not. */
const leastPowerFactor = 0.3;
/** An arc is off under this share of its own level, wherever the idle level is. */
const offShare = 0.25;

type Phase = 'idle' | 'rising' | 'arc';

/**
 * Finds arcs in the supply current: half-cycle r.m.s. over a learnt idle level, with hysteresis, a
 * time to begin and a time to end. Borders are placed inside their half cycle by its energy.
 *
 * Example at 10 240/s: 0 A, then 20 A from sample 10 240 to 30 720, then 0 A, gives began(10 240)
 * and ended(10 240, 30 720), each within half a half cycle.
 */
export class ArcDetector implements HalfCycleSink {
  readonly #events: ArcEvents;
  readonly #leastRise: Amperes;
  readonly #pairs: number;
  readonly #rateHz: Hertz;
  readonly #riseBorder = new RiseBorder();
  readonly #fallBorder = new FallBorder();
  #phase: Phase = 'idle';
  /** Learnt idle level; −1 until the first half cycle. */
  #idle = -1.0;
  /** Mean square of the arc, and where it began. */
  #level = 0.0;
  #start = 0.0;
  /** The rise so far: samples of it, samples over the threshold, energy, watts, volt-amperes. */
  #risen = 0.0;
  #above = 0.0;
  #riseEnergy = 0.0;
  #riseWatts = 0.0;
  #riseVoltAmps = 0.0;
  /** Power of four cycles, each ending a half cycle after the last; most of it in the rise. */
  readonly #watts = new Float64Array(4);
  #hottest = 0.0;
  /** Samples of the run of low half cycles that a rise, or an arc, ends with so far. */
  #low = 0.0;
  /** Mean squares of the last eight half cycles, newest first. */
  readonly #recent = new Float64Array(8);
  #lastEnd = Number.NEGATIVE_INFINITY;
  /** The rise came with a stretch's first half cycle; that stretch's edge, and the border after. */
  #opens = false;
  #stretchStart = 0.0;
  #stretchBorder = -1.0;

  constructor(options: ArcDetectorOptions, events: ArcEvents) {
    this.#rateHz = options.rateHz;
    this.#leastRise = options.leastRise ?? defaultLeastRise;
    this.#pairs = options.pairs ?? Number.POSITIVE_INFINITY;
    assert(this.#leastRise > 0, 'an arc rises over its idle level');
    this.#events = events;
  }

  /** True from `began` to `ended`. */
  get burning(): boolean {
    return this.#phase === 'arc';
  }

  /** Supply current with the machine idle, in the rows' unit; null before the first row. */
  get idle(): Amperes | null {
    return this.#idle < 0 ? null : this.#idle;
  }

  halfCycle(row: HalfCycleRow): void {
    const half = row.end - row.middle;
    const joined = Math.abs(row.middle - this.#lastEnd) < 0.25 * half;
    let newest = 0.0;
    let whole = 0.0;
    let watts = 0.0;
    let voltAmps = 0.0;
    const pairs = Math.min(this.#pairs, row.ihalf.length);
    for (let pair = 0; pair < pairs; pair++) {
      const amps = row.ihalf[pair]!;
      newest += amps * amps;
      whole += row.irms[pair]! ** 2;
      // Of a whole cycle: a lopsided inrush gives back in one half what it took in the other.
      watts += Math.abs(row.watts[pair]!);
      voltAmps += amps * row.uhalf[pair]!;
    }
    if (!joined) {
      // After the stream's start or a gap the row's first half cycle is news too.
      const first = row.middle - row.start;
      const energy = Math.max(0, whole * (first + half) - newest * half) / first;
      this.#take(row.start, row.middle, energy, watts, voltAmps);
    }
    this.#take(row.middle, row.end, newest, watts, voltAmps);
  }

  /** Takes the part of a half cycle at a stretch's edge: what burns there burns to the edge. */
  edge(row: HalfCycleRow): void {
    if (Math.abs(row.middle - this.#lastEnd) < 1) {
      this.#lastEnd = row.end;
      return;
    }
    this.#stretchStart = Math.max(0, row.middle);
    this.#stretchBorder = row.end;
  }

  /** Tells of samples that are not in the stream: a long gap ends an arc where it begins. */
  skip(frames: number): void {
    if (frames <= bridgedGapSeconds * this.#rateHz) return;
    this.end();
  }

  /** The stream's end, at sample `at` where it is known: an arc that still burns ends there. */
  end(at?: SampleIndex): void {
    if (this.#phase === 'rising' && this.#risen >= 0.6 * attackSeconds * this.#rateHz) {
      if (this.#low === 0 && this.#isArc()) this.#begin();
    }
    if (this.#phase === 'arc') {
      const last = Math.max(this.#lastEnd, at ?? this.#lastEnd);
      const fallen = this.#fallBorder.place(this.#idle * this.#idle);
      this.#events.ended(this.#start, this.#low > 0 ? fallen : last);
    }
    this.#phase = 'idle';
    this.#low = 0;
  }

  #take(start: number, end: number, square: number, watts: number, voltAmps: number): void {
    const length = end - start;
    if (this.#phase === 'idle') this.#whileIdle(start, end, square);
    if (this.#phase === 'rising') this.#whileRising(length, square, watts, voltAmps);
    else if (this.#phase === 'arc') this.#whileArc(start, length, square);
    this.#recent.copyWithin(1, 0, 7);
    this.#recent[0] = square;
    this.#lastEnd = end;
  }

  get #rise(): number {
    return Math.max(this.#leastRise, 0.4 * Math.max(0, this.#idle));
  }

  #whileIdle(start: number, end: number, square: number): void {
    const level = Math.sqrt(square);
    const unknown = this.#idle < 0;
    // A stream that opens on a current shows no idle level; twice the rise is taken for an arc.
    const threshold = unknown ? 2 * this.#rise : this.#idle + this.#rise;
    if (level <= threshold) {
      if (unknown) this.#idle = level;
      // Down at once, up slowly: the pulses of an idle inverter lift the level to their mean.
      else this.#idle += (level < this.#idle ? 0.1 : 0.02) * (level - this.#idle);
      return;
    }
    // With no idle level before it, it burns since the stretch began.
    this.#opens = unknown || Math.abs(start - this.#lastEnd) > 0.25 * (end - start);
    if (unknown) this.#idle = 0;
    this.#phase = 'rising';
    this.#risen = this.#above = this.#riseEnergy = this.#riseWatts = this.#riseVoltAmps = 0;
    this.#low = this.#hottest = 0;
    this.#watts.fill(0);
    this.#riseBorder.mark(start, end - start, unknown ? 0 : this.#recent[0]!);
  }

  #whileRising(length: number, square: number, watts: number, voltAmps: number): void {
    this.#riseBorder.take(square);
    this.#hottest = Math.max(this.#hottest, this.#wattsOfFour(watts));
    this.#risen += length;
    this.#riseEnergy += length * square;
    this.#riseWatts += length * watts;
    this.#riseVoltAmps += length * voltAmps;
    if (square > (this.#idle + this.#rise / 2) ** 2) {
      this.#above += length;
      this.#low = 0;
    } else this.#low += length;
    if (this.#low >= holdSeconds * this.#rateHz) this.#phase = 'idle';
    else if (this.#risen < attackSeconds * this.#rateHz) return;
    else {
      // What was hot at first and goes on for long enough is an arc all the same.
      const late = this.#risen > undecidedSeconds * this.#rateHz;
      const hot = this.#shareOfHottest() >= (late ? offShare : leastOfHottest);
      if (hot && this.#low === 0 && this.#keepsUp(square) && this.#isArc()) this.#begin();
      else if (late) {
        this.#idle = Math.sqrt(this.#riseEnergy / this.#risen);
        this.#phase = 'idle';
      }
    }
  }

  #wattsOfFour(newest: number): number {
    const four = this.#watts;
    four.copyWithin(1, 0, 3);
    four[0] = newest;
    return four[0] + four[1]! + four[2]! + four[3]!;
  }

  #shareOfHottest(): number {
    const four = this.#watts;
    return (four[0]! + four[1]! + four[2]! + four[3]!) / this.#hottest;
  }

  /** The newest half cycle is not yet among the recent ones. */
  #keepsUp(square: number): boolean {
    const r = this.#recent;
    const now = square + r[0]! + r[1]! + r[2]!;
    return now >= leastKept * (r[3]! + r[4]! + r[5]! + r[6]!);
  }

  #isArc(): boolean {
    if (this.#above < leastShare * this.#risen) return false;
    return this.#riseWatts >= leastPowerFactor * this.#riseVoltAmps;
  }

  #begin(): void {
    this.#phase = 'arc';
    this.#level = this.#riseEnergy / this.#risen;
    this.#start = this.#placeStart();
    this.#events.began(this.#start);
  }

  #whileArc(start: number, length: number, square: number): void {
    const off = Math.max(this.#idle + this.#rise / 2, offShare * Math.sqrt(this.#level));
    if (square > off * off) {
      this.#low = 0;
      this.#level += (length / (levelSeconds * this.#rateHz)) * (square - this.#level);
      return;
    }
    if (this.#low > 0) this.#fallBorder.take(square, length);
    else {
      this.#fallBorder.mark(start, length, square, this.#recent);
      if (Math.abs(start - this.#lastEnd) > 0.25 * length) this.#fallBorder.know(this.#lastEnd);
    }
    this.#low += length;
    if (this.#low < holdSeconds * this.#rateHz) return;
    const idle = this.#idle * this.#idle;
    const end = this.#fallBorder.place(idle);
    this.#idle = Math.sqrt(this.#fallBorder.floor(idle));
    this.#phase = 'idle';
    this.#low = 0;
    this.#events.ended(this.#start, end);
  }

  #placeStart(): SampleIndex {
    const border = this.#riseBorder;
    if (!this.#opens) return border.place(this.#idle * this.#idle);
    return this.#stretchBorder === border.start ? this.#stretchStart : border.start;
  }
}
