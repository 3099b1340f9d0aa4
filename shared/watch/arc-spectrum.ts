import type { HarmonicSet } from '../metrology/harmonics.ts';
import type { IntervalRow } from '../metrology/interval-row.ts';
import { Intervals } from '../metrology/intervals.ts';
import { Meter } from '../metrology/meter.ts';
import { Spectrum } from '../metrology/spectrum.ts';
import type { PairSpectrum, SpectrumRow } from '../metrology/spectrum-row.ts';
import type { ArcSpectrum } from '../protocol/http-spectrum.ts';
import type { Hertz, SampleIndex } from '../units.ts';

interface SpectrumWish {
  rateHz: Hertz;
  pairs: number;
  nominalHertz: 50 | 60 | null;
  /** All windows that lie wholly in here … */
  from: SampleIndex;
  to: SampleIndex;
  /** … or, where it is given, only the one that holds this sample. */
  at: SampleIndex | null;
}

/** Sums of one channel's lines over windows. */
class LineSums {
  readonly groups = new Float64Array(51);
  readonly subgroups = new Float64Array(51);
  thds = 0;

  add({ groups, subgroups, thds }: HarmonicSet): void {
    for (let order = 0; order < this.groups.length; order++) {
      this.groups[order] = this.groups[order]! + groups[order]! ** 2;
      this.subgroups[order] = this.subgroups[order]! + subgroups[order]! ** 2;
    }
    this.thds += thds;
  }

  /** Mean over windows, up to the highest order that the sampling rate shows. */
  lines(windows: number, top: number) {
    const roots = (sums: Float64Array) =>
      Array.from(sums.subarray(0, top + 1), (sum) => Math.sqrt(sum / windows));
    const thdPercent = (100 * this.thds) / windows;
    return {
      groups: roots(this.groups),
      subgroups: roots(this.subgroups),
      thdPercent: Number.isFinite(thdPercent) ? thdPercent : null,
    };
  }
}

/**
 * Spectra of a stored arc, by the same windows that its distortion is told of. Samples come in
 * stream order, half a second and more before `from` so that the cycles are found by then, in
 * blocks of at most 8192 frames.
 */
export class ArcSpectra {
  readonly #wish: SpectrumWish;
  readonly #spectrum: Spectrum;
  readonly #meter: Meter;
  readonly #base: SampleIndex;
  readonly #volts: LineSums[];
  readonly #amps: LineSums[];
  #windows = 0;
  #first: SampleIndex = 0;
  #last: SampleIndex = 0;
  #hertz = 0;
  #top = 0;

  /** `base`: place of the first sample that will be pushed. */
  constructor(wish: SpectrumWish, base: SampleIndex) {
    this.#wish = wish;
    this.#base = base;
    const sums = () => Array.from({ length: wish.pairs }, () => new LineSums());
    this.#volts = sums();
    this.#amps = sums();
    this.#spectrum = new Spectrum(wish, { spectrum: (row) => this.#take(row) });
    const intervals = new Intervals(
      { ...wish, startedAt: null },
      { basic: (row) => this.#isWanted(row) && this.#spectrum.window(row) },
    );
    this.#meter = new Meter(wish, { halfCycle: (row) => intervals.halfCycle(row) });
  }

  push(channels: readonly Float64Array[], frames: number): void {
    this.#spectrum.push(channels, frames);
    this.#meter.push(channels, frames);
  }

  skip(frames: number): void {
    this.#spectrum.skip(frames);
    this.#meter.skip(frames);
  }

  /** Null where no window is whole. `start`: the arc's own, which times count from. */
  told(start: SampleIndex): ArcSpectrum | null {
    const windows = this.#windows;
    if (windows === 0) return null;
    const seconds = (place: number) => (place + this.#base - start) / this.#wish.rateHz;
    return {
      fromS: seconds(this.#first),
      toS: seconds(this.#last),
      windows,
      hertz: this.#hertz / windows,
      pairs: this.#volts.map((volts, pair) => ({
        volts: volts.lines(windows, this.#top),
        amps: this.#amps[pair]!.lines(windows, this.#top),
      })),
    };
  }

  #isWanted({ start, end }: IntervalRow): boolean {
    const { from, to, at } = this.#wish;
    const [begin, stop] = [start + this.#base, end + this.#base];
    if (at !== null) return this.#windows === 0 && begin <= at && at < stop;
    return begin >= from && stop <= to;
  }

  #take({ start, end, hertz, pairs }: SpectrumRow): void {
    if (this.#windows === 0) this.#first = start;
    this.#last = end;
    this.#windows += 1;
    this.#hertz += hertz;
    pairs.forEach(({ volts, amps }: PairSpectrum, pair) => {
      this.#top = volts.top;
      this.#volts[pair]!.add(volts);
      this.#amps[pair]!.add(amps);
    });
  }
}
