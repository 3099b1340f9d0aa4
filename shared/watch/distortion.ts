import type { IntervalRow } from '../metrology/interval-row.ts';
import { Spectrum } from '../metrology/spectrum.ts';
import type { SpectrumRow } from '../metrology/spectrum-row.ts';
import type { Hertz, SampleIndex } from '../units.ts';

/** Of the windows with no arc every so many is looked at: one in ten seconds. */
const idleEvery = 50;

/** THD of an arc's windows, by pair: mean of what lies wholly inside it, percent. */
export interface ArcDistortion {
  voltsPercent: number | null;
  ampsPercent: number | null;
}

/** Spectra where they are wanted: all windows of an arc, a few of the rest. */
export class Distortion {
  readonly #setup: { rateHz: Hertz; pairs: number; nominalHertz: 50 | 60 };
  /** Half a megabyte of samples and tables: there only while samples come. */
  #spectrum: Spectrum | null = null;
  #at: SampleIndex;
  readonly #tell: (voltsPercent: number, crest: number) => void;
  /** Sums of volts' and amperes' distortion, two a pair; and those of the newest window. */
  readonly #sums: Float64Array;
  readonly #newest: Float64Array;
  #newestEnd: SampleIndex | null = null;
  #windows = 0;
  #arcStart = Number.POSITIVE_INFINITY;
  #idle = 0;

  constructor(
    setup: { rateHz: Hertz; pairs: number; nominalHertz: 50 | 60 },
    at: SampleIndex,
    tell: (voltsPercent: number, crest: number) => void,
  ) {
    this.#setup = setup;
    this.#at = at;
    this.#tell = tell;
    this.#sums = new Float64Array(2 * setup.pairs);
    this.#newest = new Float64Array(2 * setup.pairs);
  }

  push(channels: readonly Float64Array[], frames: number): void {
    if (this.#spectrum === null) {
      this.#spectrum = new Spectrum(this.#setup, { spectrum: (row) => this.#take(row) });
      this.#spectrum.skip(this.#at);
    }
    this.#spectrum.push(channels, frames);
    this.#at += frames;
  }

  skip(frames: number): void {
    this.#spectrum?.skip(frames);
    this.#at += frames;
  }

  /** Nothing comes for a while: the memory is given back. */
  rest(): void {
    this.#spectrum = null;
  }

  arcBegan(start: SampleIndex): void {
    this.#arcStart = start;
    this.#windows = 0;
    this.#newestEnd = null;
    this.#sums.fill(0);
  }

  /** The end is told a hold time late: the newest window may reach beyond it. */
  arcEnded(end: SampleIndex): ArcDistortion[] {
    if (this.#newestEnd !== null && this.#newestEnd <= end) this.#keepNewest();
    this.#newestEnd = null;
    this.#arcStart = Number.POSITIVE_INFINITY;
    return this.soFar();
  }

  soFar(): ArcDistortion[] {
    const mean = (at: number) => {
      const percent = (100 * this.#sums[at]!) / this.#windows;
      return Number.isFinite(percent) ? percent : null;
    };
    return Array.from({ length: this.#sums.length / 2 }, (_, pair) => ({
      voltsPercent: mean(2 * pair),
      ampsPercent: mean(2 * pair + 1),
    }));
  }

  interval(row: IntervalRow): void {
    const inArc = row.start >= this.#arcStart;
    if (inArc || this.#idle++ % idleEvery === 0) this.#spectrum?.window(row);
  }

  /** By subgroups, which is what IEC 61000-4-30 class A reports. */
  #take(row: SpectrumRow): void {
    const inArc = row.start >= this.#arcStart;
    if (inArc && this.#newestEnd !== null) this.#keepNewest();
    if (inArc) this.#newestEnd = row.end;
    let highest = 0;
    let crest = Number.POSITIVE_INFINITY;
    for (let pair = 0; pair < row.pairs.length; pair++) {
      const { volts, amps, voltsCrest } = row.pairs[pair]!;
      if (volts.thds > highest) highest = volts.thds;
      if (voltsCrest < crest) crest = voltsCrest;
      this.#newest[2 * pair] = volts.thds;
      this.#newest[2 * pair + 1] = amps.thds;
    }
    if (row.whole && !row.flagged) this.#tell(100 * highest, crest);
  }

  #keepNewest(): void {
    this.#windows += 1;
    for (let at = 0; at < this.#sums.length; at++)
      this.#sums[at] = this.#sums[at]! + this.#newest[at]!;
  }
}
