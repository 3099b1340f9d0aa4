import { assert } from '../assert.ts';
import type { Hertz, SampleIndex } from '../units.ts';
import { type CyclesPerWindow, cyclesAt, emptyHarmonics, readHarmonics } from './harmonics.ts';
import type { IntervalRow } from './interval-row.ts';
import { emptyPower1459, power1459, type WholePower } from './power-1459.ts';
import type { PairSpectrum, SpectrumRow, SpectrumSink } from './spectrum-row.ts';
import { SpectrumTools } from './spectrum-tools.ts';

/**
 * Kept of the past: the longest window (0.24 s), the cycles until its row is told, and the tenth of
 * a second that a meter holds back at its start.
 */
const HISTORY_SECONDS = 0.6;
const LONGEST_BLOCK = 8192;

export interface SpectrumSetup {
  rateHz: Hertz;
  /** Voltage–current pairs, 1 to 3. */
  pairs: number;
  /** Given, or null: told by the windows. */
  nominalHertz: 50 | 60 | null;
  /** Longest block that will be pushed; 8192 unless told. It decides the memory taken. */
  blockFrames?: number;
  /** Powers and the current's crest factor; what is not asked for stays NaN. Asked unless told. */
  powers?: boolean;
  /** Shared by the spectra of one rate, where there are many. */
  tools?: SpectrumTools;
}

/**
 * Spectra and powers of 10/12-cycle windows. Each window is read anew between its fractional
 * borders at a power of two of places, so that it spans whole cycles exactly (the synchronisation
 * that IEC 61000-4-7 asks to 0.03 %), then transformed and grouped.
 *
 * Feed the samples first (`push`, at most `blockFrames` at a time, `skip` over lost ones), then the
 * windows that end in them: `window` takes the `basic` rows of Intervals, which come a cycle late,
 * so what lies beside a window is there. R.m.s. values and power are those of the row.
 */
export class Spectrum {
  private readonly rateHz: number;
  private cycles: CyclesPerWindow | null;
  private readonly sink: SpectrumSink;
  private readonly tools: SpectrumTools;
  private readonly blockFrames: number;
  private readonly powers: boolean;
  private readonly history: number;
  private readonly samples: Float64Array[];
  /** Stream index of the first sample kept, count of those kept. */
  private base = 0;
  private kept = 0;
  private readonly pairs: PairSpectrum[];
  private readonly row: SpectrumRow;
  private readonly whole: { -readonly [K in keyof WholePower]: number };

  constructor(setup: SpectrumSetup, sink: SpectrumSink) {
    assert(setup.pairs >= 1 && setup.pairs <= 3, 'a stream has one to three pairs');
    this.rateHz = setup.rateHz;
    this.cycles = setup.nominalHertz === null ? null : cyclesAt(setup.nominalHertz);
    this.sink = sink;
    this.tools = setup.tools ?? new SpectrumTools(setup.rateHz);
    assert(this.tools.rateHz === setup.rateHz, 'spectra share tools of their own rate');
    this.blockFrames = setup.blockFrames ?? LONGEST_BLOCK;
    this.powers = setup.powers ?? true;
    this.history = Math.ceil(HISTORY_SECONDS * setup.rateHz);
    // Room for more than one block: the history is moved to the front each time it is full.
    const room = this.history + Math.max(2 * this.blockFrames, this.history >> 1);
    this.samples = Array.from({ length: 2 * setup.pairs }, () => new Float64Array(room));
    this.pairs = Array.from({ length: setup.pairs }, () => ({
      volts: emptyHarmonics(),
      amps: emptyHarmonics(),
      power: emptyPower1459(),
      voltsCrest: NaN,
      ampsCrest: NaN,
    }));
    this.row = {
      start: 0,
      end: 0,
      cycles: this.cycles ?? 10,
      hertz: 0,
      whole: false,
      flagged: false,
      pairs: this.pairs,
    };
    this.whole = { volts: NaN, amps: NaN, watts: NaN };
  }

  /** Columns v1, i1, v2, i2, …; at most `blockFrames` of each. */
  push(channels: readonly Float64Array[], frames: number): void {
    assert(frames <= this.blockFrames, 'a block has at most the frames that were told');
    assert(channels.length >= this.samples.length, 'a block has two columns a pair');
    if (this.kept + frames > this.samples[0]!.length) this.forget();
    for (let c = 0; c < this.samples.length; c++) {
      const from = channels[c]!;
      const to = this.samples[c]!;
      // A view of a part would be an object a block; most blocks are full.
      if (from.length === frames) to.set(from, this.kept);
      else for (let n = 0, at = this.kept; n < frames; n++, at++) to[at] = from[n]!;
    }
    this.kept += frames;
  }

  /** Frames that were lost: windows that need them are not read. */
  skip(frames: number): void {
    this.base += this.kept + frames;
    this.kept = 0;
  }

  /**
   * Reads one window and hands it to the sink. False where its samples are not there: it lies
   * across a gap, at the stream's very edge, or is a window cut short.
   */
  window(interval: IntervalRow): boolean {
    const { start, end } = interval;
    const { fft, reader } = this.tools;
    const first = start - this.base;
    const step = (end - start) / fft.size;
    const hertz = (interval.parts * this.rateHz) / (end - start);
    this.cycles ??= cyclesAt(hertz);
    if (interval.parts !== this.cycles || first < reader.margin - 1) return false;
    if (end - this.base + reader.margin >= this.kept) return false;
    const top = this.tools.prepareGains(hertz);
    if (top < 1) return false;
    for (let pair = 0; pair < this.pairs.length; pair++)
      this.readPair(pair, first, step, this.cycles, top);
    for (let pair = 0; pair < this.pairs.length; pair++) this.power(pair, interval, first);
    this.row.start = start;
    this.row.end = end;
    this.row.hertz = hertz;
    this.row.cycles = this.cycles;
    this.row.whole = interval.whole;
    this.row.flagged = interval.flagged;
    this.sink.spectrum(this.row);
    return true;
  }

  private forget(): void {
    const from = this.kept - this.history;
    for (const channel of this.samples) channel.copyWithin(0, from, this.kept);
    this.base += from;
    this.kept = this.history;
  }

  private readPair(
    pair: number,
    first: SampleIndex,
    step: number,
    cycles: CyclesPerWindow,
    top: number,
  ): void {
    const { volts, amps, re, im, fft, gains, reader } = this.tools;
    const v = this.samples[2 * pair]!;
    const i = this.samples[2 * pair + 1]!;
    const out = this.pairs[pair]!;
    reader.readPair(v, i, first, step, volts, amps);
    fft.realForward(volts, re, im);
    readHarmonics(re, im, fft.size, cycles, gains, top, out.volts);
    fft.realForward(amps, re, im);
    readHarmonics(re, im, fft.size, cycles, gains, top, out.amps);
  }

  private power(pair: number, interval: IntervalRow, first: SampleIndex): void {
    const out = this.pairs[pair]!;
    this.whole.volts = interval.urms[pair]!;
    const from = Math.ceil(first);
    const to = Math.floor(first + interval.end - interval.start);
    out.voltsCrest = highest(this.samples[2 * pair]!, from, to) / this.whole.volts;
    if (!this.powers) return;
    this.whole.amps = interval.irms[pair]!;
    this.whole.watts = interval.watts[pair]!;
    power1459(out.volts, out.amps, this.whole, out.power);
    out.ampsCrest = highest(this.samples[2 * pair + 1]!, from, to) / this.whole.amps;
  }
}

function highest(samples: Float64Array, from: number, to: number): number {
  let most = 0.0;
  let least = 0.0;
  for (let n = from; n <= to; n++) {
    const sample = samples[n]!;
    if (sample > most) most = sample;
    else if (sample < least) least = sample;
  }
  return Math.max(most, -least);
}
