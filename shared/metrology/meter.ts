import { assert } from '../assert.ts';
import type { Hertz } from '../units.ts';
import { acquireSeconds, CycleSync } from './cycle-sync.ts';
import { edgeSample } from './edge-sample.ts';
import { addHalfCyclePhasor } from './half-cycle-phasors.ts';
import { addHalfCycle } from './half-cycle-sums.ts';
import { blankRow, type HalfCycleRow, type HalfCycleSink } from './row.ts';
import { SampleWindow } from './sample-window.ts';
import { SplitBorder } from './split-border.ts';

export interface MeterOptions {
  /** Samples a second, 1 kHz to 100 kHz. */
  rateHz: Hertz;
  /** Voltage–current pairs, 1 to 3. */
  pairs: number;
  /** Given, or null: found in the stream. */
  nominalHertz: 50 | 60 | null;
  /** Fundamental phasors in the rows; they double the cost, so they are asked for. */
  phasors?: boolean;
}

/** Twice what finding the fundamental takes: it holds that, and a piece of the stream beside. */
const windowSeconds = 2 * acquireSeconds;
/** Sums a pair: v², i², v·i. */
const stride = 3;

/**
 * Turns samples into half-cycle rows. Channels come in order v1, i1, v2, i2, … in volts and
 * amperes, or in counts: rows are in the samples' own units. Rows begin with the first whole cycle;
 * the first tenth of a second is held back until the fundamental is found, later rows come about
 * one cycle after their end. Where the stream is cut into blocks changes nothing, bit for bit.
 */
export class Meter {
  readonly #sink: HalfCycleSink;
  readonly #pairs: number;
  readonly #phasors: boolean;
  readonly #acquireSamples: number;
  readonly #window: SampleWindow;
  readonly #sync: CycleSync;
  readonly #row: HalfCycleRow;
  readonly #edge: HalfCycleRow;
  /** True once the stretch's last edge was told. */
  #edgeTold = true;
  #from = new SplitBorder();
  #to = new SplitBorder();
  /** Tails at the newest border; sums and phasor sums of the newest half cycle and the one before. */
  readonly #tails: Float64Array;
  #sums: Float64Array;
  #before: Float64Array;
  #turns: Float64Array;
  #turnsBefore: Float64Array;
  /** Position in the stream of the window's position 0. */
  #base = 0;
  /** The newest border but one and but two; half cycles measured since the last gap. */
  #border = 0.0;
  #older = 0.0;
  #halves = 0;
  #rowsAny = false;

  constructor(options: MeterOptions, sink: HalfCycleSink) {
    const { rateHz, pairs } = options;
    assert(rateHz >= 1000 && rateHz <= 200_000, 'a meter samples 1 000 to 200 000 times a second');
    assert(Number.isInteger(pairs) && pairs >= 1 && pairs <= 3, 'a meter has one to three pairs');
    this.#sink = sink;
    this.#pairs = pairs;
    this.#phasors = options.phasors ?? false;
    this.#acquireSamples = Math.ceil(acquireSeconds * rateHz);
    this.#window = new SampleWindow(2 * pairs, Math.ceil(windowSeconds * rateHz) + 64);
    this.#sync = new CycleSync(this.#window, rateHz, options.nominalHertz);
    this.#row = blankRow(pairs);
    this.#edge = blankRow(pairs);
    this.#tails = new Float64Array(stride * pairs);
    this.#sums = new Float64Array(stride * pairs);
    this.#before = new Float64Array(stride * pairs);
    this.#turns = new Float64Array(4 * pairs);
    this.#turnsBefore = new Float64Array(4 * pairs);
  }

  get hertz(): Hertz {
    return this.#sync.hertz;
  }

  get nominalHertz(): 50 | 60 | null {
    return this.#sync.nominalHertz;
  }

  /** Takes the first `frames` samples of every channel. */
  push(channels: readonly Float64Array[], frames: number): void {
    const window = this.#window;
    let offset = 0;
    while (offset < frames) {
      const left = frames - offset;
      if (this.#sync.running && left > window.room) this.#drop();
      // Before the lock the window is filled to the same sample whatever the blocks are.
      const wanted = this.#sync.running ? window.room : this.#acquireSamples - window.end;
      const part = Math.min(wanted, left);
      window.append(channels, offset, part);
      offset += part;
      if (this.#sync.running) this.#sync.take();
      else if (window.end >= this.#acquireSamples) this.#acquire();
      else continue;
      while (this.#sync.ready) this.#step(false);
    }
  }

  /** Tells that `frames` samples of the stream are not there. The sync starts anew after them. */
  skip(frames: number): void {
    this.end();
    const { border, half } = this.#sync;
    const past = this.#window.end + frames;
    this.#base += past;
    this.#window.clear();
    this.#sync.restart(border - past + Math.ceil((past - border) / half) * half);
  }

  /** The stream's end: the rows up to its last whole half cycle, on foretold borders. */
  end(): void {
    const { end } = this.#window;
    if (!this.#sync.running) {
      if (end === 0) return;
      this.#acquire();
      while (this.#sync.ready) this.#step(false);
    }
    // The last sample stands for half a sample beyond itself.
    while (this.#sync.border + this.#sync.half < end - 0.5) this.#step(true);
    if (this.#edgeTold) return;
    this.#edgeTold = true;
    this.#tellEdge(this.#border, end - 0.5, this.#to.sample + 1, end, -1);
  }

  /** Keeps what a border, and what a look at another pair's voltage, may still read. */
  #drop(): void {
    const border = Math.floor(this.#sync.border) - 2;
    const needed = this.#pairs > 1 ? Math.min(border, this.#sync.oldestNeeded) : border;
    this.#window.drop(Math.max(0, Math.min(needed, this.#window.end)));
  }

  #acquire(): void {
    this.#sync.acquire();
    this.#halves = 0;
    this.#border = this.#sync.border;
    this.#to.place(this.#border);
    for (let pair = 0; pair < this.#pairs; pair++) this.#placeTails(pair);
    this.#edgeTold = false;
    const stop = Math.min(this.#to.sample + 1, this.#window.end);
    this.#tellEdge(-0.5, this.#border, 0, stop, 1);
  }

  /** Tells samples first … stop, and the border's tail where it belongs to them. */
  #tellEdge(from: number, to: number, first: number, stop: number, tail: 1 | -1): void {
    if (!this.#sink.edge || to - from < 1e-6) return;
    const { columns, origin } = this.#window;
    const row = this.#edge;
    row.index = this.#row.index;
    row.start = row.middle = this.#base + from;
    row.end = this.#base + to;
    row.hertz = this.#sync.hertz;
    row.locked = this.#sync.locked;
    for (let pair = 0; pair < this.#pairs; pair++) {
      const at = stride * pair;
      const [volts, amps] = [columns[2 * pair]!, columns[2 * pair + 1]!];
      addHalfCycle(volts, amps, first - origin, stop - origin, this.#sums, at);
      const mean = (n: number) => (this.#sums[at + n]! + tail * this.#tails[at + n]!) / (to - from);
      row.urms[pair] = row.uhalf[pair] = Math.sqrt(Math.max(0, mean(0)));
      row.irms[pair] = row.ihalf[pair] = Math.sqrt(Math.max(0, mean(1)));
      row.watts[pair] = row.whalf[pair] = mean(2);
    }
    this.#sink.edge(row);
  }

  /** Measures the next half cycle, and tells the row that ends with it. */
  #step(foretold: boolean): void {
    const older = this.#border;
    if (foretold) this.#sync.foretell();
    else this.#sync.advance();
    const border = this.#sync.border;
    const { columns, origin } = this.#window;
    this.#turnAround();
    this.#to.place(border);
    const from = this.#from.sample + 1 - origin;
    const to = Math.min(this.#to.sample + 1, this.#window.end) - origin;
    for (let pair = 0; pair < this.#pairs; pair++) {
      const at = stride * pair;
      const volts = columns[2 * pair]!;
      const amps = columns[2 * pair + 1]!;
      addHalfCycle(volts, amps, from, to, this.#sums, at);
      for (let s = at; s < at + stride; s++) this.#sums[s] = this.#sums[s]! - this.#tails[s]!;
      this.#placeTails(pair);
      for (let s = at; s < at + stride; s++) this.#sums[s] = this.#sums[s]! + this.#tails[s]!;
      if (this.#phasors) this.#addPhasors(pair, older - origin, border - origin);
    }
    this.#halves += 1;
    if (this.#halves > 1) this.#tell(this.#older, older, border);
    this.#older = older;
    this.#border = border;
  }

  #turnAround(): void {
    const border = this.#from;
    this.#from = this.#to;
    this.#to = border;
    const sums = this.#before;
    this.#before = this.#sums;
    this.#sums = sums;
    const turns = this.#turnsBefore;
    this.#turnsBefore = this.#turns;
    this.#turns = turns;
  }

  #placeTails(pair: number): void {
    const { columns, origin, end } = this.#window;
    const volts = columns[2 * pair]!;
    const amps = columns[2 * pair + 1]!;
    const k = this.#to.sample - origin;
    const last = end - 1 - origin;
    const at = stride * pair;
    for (let n = 0; n < 3; n++) {
      const weight = n === 0 ? this.#to.a : n === 1 ? this.#to.b : this.#to.c;
      const v = edgeSample(volts, k + n, last);
      const i = edgeSample(amps, k + n, last);
      const keep = n === 0 ? 0 : 1;
      this.#tails[at] = keep * this.#tails[at]! + weight * v * v;
      this.#tails[at + 1] = keep * this.#tails[at + 1]! + weight * i * i;
      this.#tails[at + 2] = keep * this.#tails[at + 2]! + weight * v * i;
    }
  }

  #addPhasors(pair: number, first: number, second: number): void {
    const { columns, origin, end } = this.#window;
    const last = end - 1 - origin;
    for (let c = 0; c < 2; c++) {
      const x = columns[2 * pair + c]!;
      const at = 4 * pair + 2 * c;
      addHalfCyclePhasor(x, last, first, second, this.#from, this.#to, origin, this.#turns, at);
    }
  }

  #tell(start: number, middle: number, end: number): void {
    const row = this.#row;
    const began = this.#base + start;
    const steps = Math.round((began - row.start) / (middle - start));
    row.index = this.#rowsAny ? row.index + Math.max(1, steps) : 0;
    this.#rowsAny = true;
    row.start = began;
    row.middle = this.#base + middle;
    row.end = this.#base + end;
    row.hertz = this.#sync.hertz;
    row.locked = this.#sync.locked;
    const half = end - middle;
    const whole = end - start;
    for (let pair = 0; pair < this.#pairs; pair++) {
      const at = stride * pair;
      const vv = Math.max(0, this.#sums[at]!);
      const ii = Math.max(0, this.#sums[at + 1]!);
      const vi = this.#sums[at + 2]!;
      row.uhalf[pair] = Math.sqrt(vv / half);
      row.ihalf[pair] = Math.sqrt(ii / half);
      row.whalf[pair] = vi / half;
      row.urms[pair] = Math.sqrt((Math.max(0, this.#before[at]!) + vv) / whole);
      row.irms[pair] = Math.sqrt((Math.max(0, this.#before[at + 1]!) + ii) / whole);
      row.watts[pair] = (this.#before[at + 2]! + vi) / whole;
      if (this.#phasors) this.#tellPhasors(pair, Math.SQRT2 / whole);
    }
    this.#sink.halfCycle(row);
  }

  /** The second half cycle's angle starts at π of the first: its sums count the other way. */
  #tellPhasors(pair: number, scale: number): void {
    const row = this.#row;
    const before = this.#turnsBefore;
    const now = this.#turns;
    const at = 4 * pair;
    row.u1re[pair] = scale * (before[at]! - now[at]!);
    row.u1im[pair] = -scale * (before[at + 1]! - now[at + 1]!);
    row.i1re[pair] = scale * (before[at + 2]! - now[at + 2]!);
    row.i1im[pair] = -scale * (before[at + 3]! - now[at + 3]!);
  }
}
