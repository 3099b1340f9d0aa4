import { assert } from '../assert.ts';
import type { Hertz, SampleIndex } from '../units.ts';
import { Fft } from './fft.ts';
import { FractionalReader } from './fractional-reader.ts';
import {
  type CyclesPerWindow,
  cyclesAt,
  emptyHarmonics,
  HIGHEST_ORDER,
  readHarmonics,
} from './harmonics.ts';
import type { IntervalRow } from './interval-row.ts';
import { emptyPower1459, power1459, type WholePower } from './power-1459.ts';
import type { PairSpectrum, SpectrumRow, SpectrumSink } from './spectrum-row.ts';

/** Lowest frequency that the cycle sync follows, and with it the longest window, 10 cycles. */
const LOWEST_HERTZ = 42.5;
/** Orders end here, in parts of the sampling rate; 18 taps still read this right to 0.3 %. */
const HIGHEST_PART = 0.42;
/** Up to here 6 taps do: the 50th of 60 Hz at 10 240/s lies at 0.293. */
const HIGHEST_PART_OF_SIX = 0.3;
/** History: the longest window, one more that overlaps it at a clock tick, and its delay. */
const HISTORY_CYCLES = 30;
const LONGEST_BLOCK = 8192;

export interface SpectrumSetup {
  rateHz: Hertz;
  /** Voltage–current pairs, 1 to 3. */
  pairs: number;
  /** Given, or null: told by the windows. */
  nominalHertz: 50 | 60 | null;
}

/**
 * Spectra and powers of 10/12-cycle windows. Each window is read anew between its fractional
 * borders at a power of two of places, so that it spans whole cycles exactly (the synchronisation
 * that IEC 61000-4-7 asks to 0.03 %), then transformed and grouped.
 *
 * Feed the samples first (`push`, at most 8192 frames at a time, `skip` over lost ones), then the
 * windows that end in them: `window` takes the `basic` rows of Intervals, which come a cycle late,
 * so what lies beside a window is there. R.m.s. values and power are those of the row.
 */
export class Spectrum {
  private readonly rateHz: number;
  private cycles: CyclesPerWindow | null;
  private readonly sink: SpectrumSink;
  private readonly fft: Fft;
  private readonly reader: FractionalReader;
  private readonly history: number;
  private readonly samples: Float64Array[];
  /** Stream index of the first sample kept, count of those kept. */
  private base = 0;
  private kept = 0;
  private readonly volts: Float64Array;
  private readonly amps: Float64Array;
  private readonly re: Float64Array;
  private readonly im: Float64Array;
  private readonly gains = new Float64Array(HIGHEST_ORDER + 1);
  private readonly pairs: PairSpectrum[];
  private readonly row: SpectrumRow;
  private readonly whole: { -readonly [K in keyof WholePower]: number };

  constructor(setup: SpectrumSetup, sink: SpectrumSink) {
    assert(setup.rateHz >= 1000, 'spectra need 1000 samples a second');
    assert(setup.pairs >= 1 && setup.pairs <= 3, 'a stream has one to three pairs');
    this.rateHz = setup.rateHz;
    this.cycles = setup.nominalHertz === null ? null : cyclesAt(setup.nominalHertz);
    this.sink = sink;
    const points = pointsPerWindow(setup.rateHz);
    const fiftieth = (HIGHEST_ORDER + 0.5) * (setup.nominalHertz ?? 60);
    const six = fiftieth <= HIGHEST_PART_OF_SIX * setup.rateHz;
    this.reader = new FractionalReader(six ? 6 : 18, six ? HIGHEST_PART_OF_SIX : HIGHEST_PART);
    this.fft = new Fft(points);
    this.history = Math.ceil((HISTORY_CYCLES / LOWEST_HERTZ) * this.rateHz);
    const room = 2 * this.history + LONGEST_BLOCK;
    this.samples = Array.from({ length: 2 * setup.pairs }, () => new Float64Array(room));
    this.volts = new Float64Array(points);
    this.amps = new Float64Array(points);
    this.re = new Float64Array(points / 2 + 1);
    this.im = new Float64Array(points / 2 + 1);
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

  /** Columns v1, i1, v2, i2, …; at most 8192 frames. */
  push(channels: readonly Float64Array[], frames: number): void {
    assert(frames <= LONGEST_BLOCK, 'a block has at most 8192 frames');
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
    const first = start - this.base;
    const step = (end - start) / this.fft.size;
    const hertz = (interval.parts * this.rateHz) / (end - start);
    this.cycles ??= cyclesAt(hertz);
    if (interval.parts !== this.cycles || first < this.reader.margin - 1) return false;
    if (end - this.base + this.reader.margin >= this.kept) return false;
    const top = this.prepareGains(hertz);
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

  /** What the reading loses at each order; the highest order that it reads. */
  private prepareGains(hertz: Hertz): number {
    const part = hertz / this.rateHz;
    const top = Math.min(HIGHEST_ORDER, Math.floor(HIGHEST_PART / part - 0.5));
    for (let h = 0; h <= HIGHEST_ORDER; h++) {
      this.gains[h] = h <= top ? this.reader.gainAt(h * part) : 1;
    }
    return top;
  }

  private readPair(
    pair: number,
    first: SampleIndex,
    step: number,
    cycles: CyclesPerWindow,
    top: number,
  ): void {
    const { volts, amps, re, im, fft, gains } = this;
    const v = this.samples[2 * pair]!;
    const i = this.samples[2 * pair + 1]!;
    const out = this.pairs[pair]!;
    this.reader.readPair(v, i, first, step, volts, amps);
    fft.realForward(volts, re, im);
    readHarmonics(re, im, fft.size, cycles, gains, top, out.volts);
    fft.realForward(amps, re, im);
    readHarmonics(re, im, fft.size, cycles, gains, top, out.amps);
  }

  private power(pair: number, interval: IntervalRow, first: SampleIndex): void {
    const out = this.pairs[pair]!;
    this.whole.volts = interval.urms[pair]!;
    this.whole.amps = interval.irms[pair]!;
    this.whole.watts = interval.watts[pair]!;
    power1459(out.volts, out.amps, this.whole, out.power);
    const from = Math.ceil(first);
    const to = Math.floor(first + interval.end - interval.start);
    out.voltsCrest = highest(this.samples[2 * pair]!, from, to) / this.whole.volts;
    out.ampsCrest = highest(this.samples[2 * pair + 1]!, from, to) / this.whole.amps;
  }
}

/**
 * Places a window is read at: so many that what lies above the sampling rate's half is not folded
 * onto order 50 or below, at either number of cycles and the lowest frequency that goes with it.
 */
function pointsPerWindow(rateHz: Hertz): number {
  const atFifty = 10 * (HIGHEST_ORDER + 1 + rateHz / 2 / LOWEST_HERTZ);
  const atSixty = 12 * (HIGHEST_ORDER + 1 + rateHz / 2 / 51);
  return 2 ** Math.ceil(Math.log2(Math.max(atFifty, atSixty)));
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
