import type { SampleIndex } from '../units.ts';
import { edgeSample } from './edge-sample.ts';
import { addHalfCyclePhasors, type HalfCyclePlace } from './half-cycle-phasors.ts';
import { addHalfCycle } from './half-cycle-sums.ts';
import type { HalfCycleRow } from './row.ts';
import type { SampleWindow } from './sample-window.ts';
import { SplitBorder } from './split-border.ts';

/** Sums a pair: v², i², v·i. */
const stride = 3;

/**
 * Sums of every pair over the newest half cycle and the one before. Two neighbours are combined for
 * a row; nothing is ever added and later subtracted, which would drift.
 */
export class HalfCycleIntegral implements HalfCyclePlace {
  from = new SplitBorder();
  to = new SplitBorder();
  origin = 0;
  last = 0;
  /** Whole half cycles since the stretch began. */
  halves = 0;
  readonly #window: SampleWindow;
  readonly #pairs: number;
  readonly #phasors: boolean;
  /** Tails at the newest border. */
  readonly #tails: Float64Array;
  /** Sums of two half cycles; the newest ones begin at `now` and `turnsNow`. */
  readonly #sums: Float64Array;
  readonly #turns: Float64Array;
  #now = 0;
  #turnsNow = 0;
  #start = 0.0;

  constructor(window: SampleWindow, phasors: boolean) {
    this.#window = window;
    this.#pairs = window.columns.length / 2;
    this.#phasors = phasors;
    this.#tails = new Float64Array(stride * this.#pairs);
    this.#sums = new Float64Array(2 * stride * this.#pairs);
    this.#turns = new Float64Array(8 * this.#pairs);
  }

  /** Begins a stretch at its first border. */
  begin(border: number): void {
    this.halves = 0;
    this.#locate();
    this.to.place(border);
    for (let pair = 0; pair < this.#pairs; pair++) this.#placeTails(pair);
  }

  /** Takes the half cycle from the newest border to this one. */
  take(border: number): void {
    this.#start = this.from.position;
    const before = this.from;
    this.from = this.to;
    this.to = before;
    this.to.place(border);
    this.#locate();
    this.#now = stride * this.#pairs - this.#now;
    this.#turnsNow = 4 * this.#pairs - this.#turnsNow;
    this.halves += 1;
    const from = this.from.sample + 1 - this.origin;
    const to = Math.min(this.to.sample, this.origin + this.last) + 1 - this.origin;
    for (let pair = 0; pair < this.#pairs; pair++) this.#takePair(pair, from, to);
  }

  /** Fills in the row of the newest two half cycles; `base` is the window's place in the stream. */
  tell(row: HalfCycleRow, base: SampleIndex): void {
    const { position: end } = this.to;
    const { position: middle } = this.from;
    row.start = base + this.#start;
    row.middle = base + middle;
    row.end = base + end;
    const perHalf = 1 / (end - middle);
    const perWhole = 1 / (end - this.#start);
    for (let pair = 0; pair < this.#pairs; pair++) {
      const now = this.#now + stride * pair;
      const before = stride * (this.#pairs + pair) - this.#now;
      const vv = positive(this.#sums[now]!);
      const ii = positive(this.#sums[now + 1]!);
      const vi = this.#sums[now + 2]!;
      row.uhalf[pair] = Math.sqrt(vv * perHalf);
      row.ihalf[pair] = Math.sqrt(ii * perHalf);
      row.whalf[pair] = vi * perHalf;
      row.urms[pair] = Math.sqrt((positive(this.#sums[before]!) + vv) * perWhole);
      row.irms[pair] = Math.sqrt((positive(this.#sums[before + 1]!) + ii) * perWhole);
      row.watts[pair] = (this.#sums[before + 2]! + vi) * perWhole;
      if (this.#phasors) this.#tellPhasors(row, pair, Math.SQRT2 * perWhole);
    }
  }

  /** Fills in what lies before the stretch's first border, or after its last. */
  tellEdge(row: HalfCycleRow, base: SampleIndex, side: 'first' | 'last'): void {
    this.#locate();
    const first = side === 'first';
    const { origin, last } = this;
    const border = this.to.position;
    const from = first ? -0.5 : border;
    const to = first ? border : origin + last + 0.5;
    row.start = row.middle = base + from;
    row.end = base + to;
    const start = first ? 0 : this.to.sample + 1 - origin;
    const stop = first ? Math.min(this.to.sample - origin, last) + 1 : last + 1;
    const perEdge = 1 / (to - from);
    const { columns } = this.#window;
    for (let pair = 0; pair < this.#pairs; pair++) {
      const at = this.#now + stride * pair;
      addHalfCycle(columns[2 * pair]!, columns[2 * pair + 1]!, start, stop, this.#sums, at);
      this.#addTails(pair, first ? 1 : -1);
      row.uhalf[pair] = row.urms[pair] = Math.sqrt(positive(this.#sums[at]!) * perEdge);
      row.ihalf[pair] = row.irms[pair] = Math.sqrt(positive(this.#sums[at + 1]!) * perEdge);
      row.whalf[pair] = row.watts[pair] = this.#sums[at + 2]! * perEdge;
    }
  }

  #locate(): void {
    this.origin = this.#window.origin;
    this.last = this.#window.end - 1 - this.origin;
  }

  #takePair(pair: number, from: number, to: number): void {
    const volts = this.#window.columns[2 * pair]!;
    const amps = this.#window.columns[2 * pair + 1]!;
    addHalfCycle(volts, amps, from, to, this.#sums, this.#now + stride * pair);
    this.#addTails(pair, -1);
    this.#placeTails(pair);
    this.#addTails(pair, 1);
    if (!this.#phasors) return;
    addHalfCyclePhasors(volts, amps, this, this.#turns, this.#turnsNow + 4 * pair);
  }

  #addTails(pair: number, sign: 1 | -1): void {
    const at = this.#now + stride * pair;
    const tail = stride * pair;
    const sums = this.#sums;
    const tails = this.#tails;
    sums[at] = sums[at]! + sign * tails[tail]!;
    sums[at + 1] = sums[at + 1]! + sign * tails[tail + 1]!;
    sums[at + 2] = sums[at + 2]! + sign * tails[tail + 2]!;
  }

  #placeTails(pair: number): void {
    const volts = this.#window.columns[2 * pair]!;
    const amps = this.#window.columns[2 * pair + 1]!;
    const { a, b, c } = this.to;
    const { last } = this;
    const k = this.to.sample - this.origin;
    const inside = k >= 0 && k + 2 <= last;
    const v0 = inside ? volts[k]! : edgeSample(volts, k, last);
    const v1 = inside ? volts[k + 1]! : edgeSample(volts, k + 1, last);
    const v2 = inside ? volts[k + 2]! : edgeSample(volts, k + 2, last);
    const i0 = inside ? amps[k]! : edgeSample(amps, k, last);
    const i1 = inside ? amps[k + 1]! : edgeSample(amps, k + 1, last);
    const i2 = inside ? amps[k + 2]! : edgeSample(amps, k + 2, last);
    const at = stride * pair;
    this.#tails[at] = a * v0 * v0 + b * v1 * v1 + c * v2 * v2;
    this.#tails[at + 1] = a * i0 * i0 + b * i1 * i1 + c * i2 * i2;
    this.#tails[at + 2] = a * v0 * i0 + b * v1 * i1 + c * v2 * i2;
  }

  /** The second half cycle's angle starts at π of the first: its sums count the other way. */
  #tellPhasors(row: HalfCycleRow, pair: number, scale: number): void {
    const turns = this.#turns;
    const now = this.#turnsNow + 4 * pair;
    const before = 4 * this.#pairs - this.#turnsNow + 4 * pair;
    row.u1re[pair] = scale * (turns[before]! - turns[now]!);
    row.u1im[pair] = -scale * (turns[before + 1]! - turns[now + 1]!);
    row.i1re[pair] = scale * (turns[before + 2]! - turns[now + 2]!);
    row.i1im[pair] = -scale * (turns[before + 3]! - turns[now + 3]!);
  }
}

/** Interpolation between silence and a step may undershoot by a hair. */
function positive(square: number): number {
  return Math.max(0, square);
}
