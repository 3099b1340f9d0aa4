import { assert } from '../assert.ts';
import type { Amperes, Hertz, SampleIndex, Seconds } from '../units.ts';
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
}

/*
 * All of these are common practice, no source. Short-circuit transfer flutters at 20 to 200 a second
 * (STANDARDS 7): its gaps are under 50 ms and are bridged. Tacks stand further apart than that.
 */
const defaultLeastRise: Amperes = 2;
const attackSeconds: Seconds = 0.08;
const holdSeconds: Seconds = 0.1;
/** An undecided rise is idle current, or somebody's pulses, after this long. */
const undecidedSeconds: Seconds = 0.6;
/** A gap in the stream that an arc may go on through. */
const bridgedGapSeconds: Seconds = 1;
/** Share of the attack that must be over the threshold. */
const leastShare = 0.6;
/** The last four half cycles keep this share of the four before in energy: an inrush falls faster. */
const leastKept = 0.5;
/** A magnetising current is reactive, an arc is not. */
const leastPowerFactor = 0.3;
/** An arc is off under this share of its own level, wherever the idle level is. */
const offShare = 0.25;

type Phase = 'idle' | 'rising' | 'arc';

/**
 * Finds arcs in the supply current: half-cycle r.m.s. over a learnt idle level, with hysteresis, a
 * time to begin and a time to end. Borders are placed inside their half cycle by its energy.
 *
 * Example: 0 A, then 20 A from sample 10 240 to 30 720, gives began(≈10 240), ended(≈10 240, ≈30 720).
 */
export class ArcDetector implements HalfCycleSink {
  readonly #events: ArcEvents;
  readonly #leastRise: Amperes;
  readonly #rateHz: Hertz;
  #phase: Phase = 'idle';
  /** Learnt idle level; −1 until the first half cycle. */
  #idle = -1.0;
  /** Mean square of the arc. */
  #level = 0.0;
  #start = 0.0;
  /** The rise so far: samples of it, samples over the threshold, energy, real and apparent power. */
  #risen = 0.0;
  #above = 0.0;
  #riseEnergy = 0.0;
  #riseWatts = 0.0;
  #riseVoltAmps = 0.0;
  /** The run of low half cycles at the end: samples, energy, where it began. */
  #low = 0.0;
  #lowEnergy = 0.0;
  #edge = 0.0;
  /** Mean squares of the last eight half cycles, newest first. */
  readonly #recent = new Float64Array(8);
  /** Borders and mean squares around the rise: the half cycle before it, its first, the two after. */
  readonly #onset = new Float64Array(4);
  #onsetHalves = 0;
  #onsetStart = 0.0;
  #onsetSpan = 0.0;
  #lastEnd = Number.NEGATIVE_INFINITY;
  /** The rise came with a stretch's first half cycle; that stretch's edge, and the border after it. */
  #opens = false;
  #stretchStart = 0.0;
  #stretchBorder = -1.0;

  constructor(options: ArcDetectorOptions, events: ArcEvents) {
    this.#rateHz = options.rateHz;
    this.#leastRise = options.leastRise ?? defaultLeastRise;
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
    for (let pair = 0; pair < row.ihalf.length; pair++) {
      const amps = row.ihalf[pair]!;
      newest += amps * amps;
      whole += row.irms[pair]! ** 2;
      watts += Math.abs(row.whalf[pair]!);
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

  /** Tells of `frames` samples that are not in the stream: a long gap ends an arc where it begins. */
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
      this.#events.ended(this.#start, this.#low > 0 ? this.#placeEnd() : last);
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
    this.#low = 0;
    this.#onset[0] = unknown ? this.#idle * this.#idle : this.#recent[0]!;
    this.#onsetHalves = 0;
    this.#onsetStart = start;
    this.#onsetSpan = end - start;
  }

  #whileRising(length: number, square: number, watts: number, voltAmps: number): void {
    if (this.#onsetHalves < 3) this.#onset[++this.#onsetHalves] = square;
    this.#risen += length;
    this.#riseEnergy += length * square;
    this.#riseWatts += length * watts;
    this.#riseVoltAmps += length * voltAmps;
    if (square > (this.#idle + this.#rise / 2) ** 2) {
      this.#above += length;
      this.#low = 0;
    } else this.#low += length;
    if (this.#low >= holdSeconds * this.#rateHz) this.#phase = 'idle';
    else if (this.#risen > undecidedSeconds * this.#rateHz) {
      this.#idle = Math.sqrt(this.#riseEnergy / this.#risen);
      this.#phase = 'idle';
    } else if (this.#risen >= attackSeconds * this.#rateHz && this.#low === 0) {
      if (this.#keepsUp(square) && this.#isArc()) this.#begin();
    }
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
      // About a third of a second: slower than flutter, faster than a hand that turns a knob.
      this.#level += (length / (0.3 * this.#rateHz)) * (square - this.#level);
      return;
    }
    if (this.#low === 0) this.#markEdge(start, length, square);
    else this.#lowEnergy += length * square;
    this.#low += length;
    if (this.#low < holdSeconds * this.#rateHz) return;
    this.#idle = Math.sqrt(this.#lowEnergy / (this.#low - this.#edgeSpan));
    this.#phase = 'idle';
    this.#low = 0;
    this.#events.ended(this.#start, this.#placeEnd());
  }

  /** Notes the first low half cycle, the last high one before it, and the level before both. */
  #edgeSpan = 0.0;
  #edgeSquare = 0.0;
  #edgeHigh = 0.0;
  #edgeBefore = 0.0;
  #edgeSplit = false;

  #markEdge(start: number, length: number, square: number): void {
    this.#edge = start;
    this.#edgeSpan = length;
    this.#edgeSquare = square;
    this.#edgeHigh = this.#recent[0]!;
    this.#edgeBefore = (this.#recent[1]! + this.#recent[2]!) / 2;
    this.#edgeSplit = Math.abs(start - this.#lastEnd) > 0.25 * length;
    if (this.#edgeSplit) this.#edge = this.#lastEnd;
    this.#lowEnergy = 0;
  }

  /** The rise lies in its first half cycle, or late in the one before, by their shares of energy. */
  #placeStart(): SampleIndex {
    if (this.#opens) {
      return this.#stretchBorder === this.#onsetStart ? this.#stretchStart : this.#onsetStart;
    }
    const floor = this.#idle * this.#idle;
    const full = (this.#onset[2]! + this.#onset[3]!) / 2;
    const first = share(this.#onset[1]!, floor, full);
    const before = first > 0.8 ? share(this.#onset[0]!, floor, full) : 0;
    return this.#onsetStart + (1 - first - before) * this.#onsetSpan;
  }

  #placeEnd(): SampleIndex {
    if (this.#edgeSplit) return this.#edge;
    const rest = this.#low > this.#edgeSpan ? this.#low - this.#edgeSpan : 0;
    const floor = rest > 0 ? this.#lowEnergy / rest : this.#idle * this.#idle;
    const first = share(this.#edgeSquare, floor, this.#edgeBefore);
    const missing = first < 0.2 ? 1 - share(this.#edgeHigh, floor, this.#edgeBefore) : 0;
    return this.#edge + (first - missing) * this.#edgeSpan;
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
