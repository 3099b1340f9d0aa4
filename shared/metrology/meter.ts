import { assert } from '../assert.ts';
import type { Hertz } from '../units.ts';
import { acquireSeconds, CycleSync } from './cycle-sync.ts';
import { HalfCycleIntegral } from './half-cycle-integral.ts';
import { OwnCrossings } from './own-crossings.ts';
import { blankRow, type HalfCycleRow, type HalfCycleSink } from './row.ts';
import { SampleWindow } from './sample-window.ts';

export interface MeterOptions {
  /** Samples a second, 1 kHz to 100 kHz. */
  rateHz: Hertz;
  /** Voltage–current pairs, 1 to 3. */
  pairs: number;
  /**
   * Columns after theirs that are worked out from them (`line-to-line.ts`), counted as pairs: rows
   * have them too, but cycles are found on measured voltages alone.
   */
  between?: number;
  /** Given, or null: found in the stream. */
  nominalHertz: 50 | 60 | null;
  /** Fundamental phasors in the rows; they double the cost, so they are asked for. */
  phasors?: boolean;
}

/** Twice what finding the fundamental takes: it holds that, and a piece of the stream beside. */
const windowSeconds = 2 * acquireSeconds;

/**
 * Turns samples into half-cycle rows. Channels come in order v1, i1, v2, i2, … in volts and
 * amperes, or in counts: rows are in the samples' own units. Rows begin with the first whole cycle;
 * the first tenth of a second is held back until the fundamental is found, later rows come about
 * one cycle after their end. Where the stream is cut into blocks changes nothing, bit for bit.
 */
export class Meter {
  readonly #sink: HalfCycleSink;
  readonly #severalPairs: boolean;
  readonly #acquireSamples: number;
  readonly #window: SampleWindow;
  readonly #sync: CycleSync;
  readonly #integral: HalfCycleIntegral;
  /** Null where nobody asks, and for a single pair. */
  readonly #own: OwnCrossings | null;
  readonly #row: HalfCycleRow;
  readonly #edge: HalfCycleRow;
  /** True once the stretch's last edge was told. */
  #edgeTold = true;
  /** Position in the stream of the window's position 0. */
  #base = 0;
  #rowsAny = false;

  constructor(options: MeterOptions, sink: HalfCycleSink) {
    const { rateHz, pairs: measured, between = 0 } = options;
    const pairs = measured + between;
    assert(rateHz >= 1000 && rateHz <= 200_000, 'a meter samples 1 000 to 200 000 times a second');
    assert([1, 2, 3].includes(measured), 'a meter has one to three pairs');
    this.#sink = sink;
    this.#severalPairs = pairs > 1;
    this.#acquireSamples = Math.ceil(acquireSeconds * rateHz);
    this.#window = new SampleWindow(2 * pairs, Math.ceil(windowSeconds * rateHz) + 64);
    const followed = Array.from({ length: measured }, (_, pair) => pair);
    this.#sync = new CycleSync(this.#window, rateHz, options.nominalHertz, followed);
    this.#integral = new HalfCycleIntegral(this.#window, options.phasors ?? false);
    const ask = pairs > 1 && sink.channel !== undefined;
    this.#own = ask
      ? new OwnCrossings(this.#window, { ...options, pairs }, (own) => sink.channel?.(own))
      : null;
    this.#row = blankRow(pairs);
    this.#edge = blankRow(pairs);
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
      if (this.#sync.running) this.#take();
      else if (window.end >= this.#acquireSamples) this.#acquire();
      else continue;
      if (this.#own !== null) this.#advanceBeside(this.#own);
      else while (this.#sync.ready) this.#advance();
    }
  }

  /** Tells that `frames` samples of the stream are not there. The sync starts anew after them. */
  skip(frames: number): void {
    this.end();
    const { border, half } = this.#sync;
    const past = this.#window.end + frames;
    this.#base += past;
    this.#window.clear();
    this.#own?.restart(past);
    this.#sync.restart(border - past + Math.ceil((past - border) / half) * half);
  }

  /** After a skip: nothing comes for a while, and what held samples is given back. */
  rest(): void {
    assert(this.#window.end === 0, 'a meter rests where its window is empty');
    this.#window.release();
    this.#sync.rest();
    this.#own?.rest();
  }

  /** The stream's end: the rows up to its last whole half cycle, on foretold borders. */
  end(): void {
    const { end } = this.#window;
    if (!this.#sync.running) {
      if (end === 0) return;
      this.#acquire();
      if (this.#own !== null) this.#advanceBeside(this.#own);
      else while (this.#sync.ready) this.#advance();
    }
    // The last sample stands for half a sample beyond itself.
    while (this.#sync.border + this.#sync.half < end - 0.5) {
      this.#own?.endBefore(this.#sync.border + this.#sync.half, this.#base);
      this.#sync.foretell();
      this.#tell();
    }
    this.#own?.endBefore(end - 0.5, this.#base);
    if (this.#edgeTold) return;
    this.#edgeTold = true;
    if (this.#sync.border < end - 0.5) this.#tellEdge('last');
  }

  /** Keeps what a border, and what a look at another pair's voltage, may still read. */
  #drop(): void {
    const border = Math.floor(this.#sync.border) - 2;
    const seen = this.#severalPairs ? Math.min(border, this.#sync.oldestNeeded) : border;
    const needed = this.#own ? Math.min(seen, this.#own.oldestNeeded) : seen;
    this.#window.drop(Math.max(0, Math.min(needed, this.#window.end)));
  }

  #acquire(): void {
    this.#sync.acquire();
    this.#integral.begin(this.#sync.border);
    this.#own?.acquire(this.#sync.half);
    this.#edgeTold = false;
    if (this.#sync.border > -0.5) this.#tellEdge('first');
  }

  #take(): void {
    this.#sync.take();
    this.#own?.take();
  }

  #advance(): void {
    this.#sync.advance();
    this.#tell();
  }

  /** As far as the samples reach, each voltage told by itself before the row that ends after it. */
  #advanceBeside(own: OwnCrossings): void {
    const sync = this.#sync;
    while (sync.ready && own.tellBefore(sync.border + sync.half, this.#base)) this.#advance();
  }

  /** Measures the half cycle that ends at the sync's border, and tells the row that ends there. */
  #tell(): void {
    const integral = this.#integral;
    integral.take(this.#sync.border);
    if (integral.halves < 2) return;
    const row = this.#row;
    const { start: oldStart, middle } = row;
    integral.tell(row, this.#base);
    row.hertz = this.#sync.hertz;
    row.locked = this.#sync.locked;
    // After a gap the half cycles that were not seen are counted by the time they took.
    const steps = row.start === middle ? 1 : Math.round((row.start - oldStart) / this.#sync.half);
    row.index = this.#rowsAny ? row.index + Math.max(1, steps) : 0;
    this.#rowsAny = true;
    this.#sink.halfCycle(row);
  }

  #tellEdge(side: 'first' | 'last'): void {
    if (!this.#sink.edge) return;
    const row = this.#edge;
    this.#integral.tellEdge(row, this.#base, side);
    row.index = this.#row.index;
    row.hertz = this.#sync.hertz;
    row.locked = this.#sync.locked;
    this.#sink.edge(row);
  }
}
