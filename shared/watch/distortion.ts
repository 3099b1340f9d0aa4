import type { IntervalRow } from '../metrology/interval-row.ts';
import { Spectrum } from '../metrology/spectrum.ts';
import type { SpectrumRow } from '../metrology/spectrum-row.ts';
import { SpectrumTools } from '../metrology/spectrum-tools.ts';
import type { Hertz, SampleIndex } from '../units.ts';

/** Of the windows with no arc every so many is looked at: one in ten seconds. */
const idleEvery = 50;
/**
 * Of an arc's windows the first two seconds' are looked at, then one a second: distortion follows
 * the machine's setting, which does not change while it burns, and a spectrum costs more than all
 * else that is measured of the same samples.
 */
const arcFirst = 10;
const arcEvery = 5;
/** Sets of tables kept: a shop has sensors of one rate or two. */
const mostTools = 4;

/** Tables by sampling rate, for all watches: a window is done before another's begins. */
const toolsOf = new Map<Hertz, SpectrumTools>();

function toolsFor(rateHz: Hertz): SpectrumTools {
  let tools = toolsOf.get(rateHz);
  if (tools === undefined) {
    if (toolsOf.size === mostTools) toolsOf.clear();
    tools = new SpectrumTools(rateHz);
    toolsOf.set(rateHz, tools);
  }
  return tools;
}

export interface DistortionSetup {
  rateHz: Hertz;
  pairs: number;
  nominalHertz: 50 | 60;
  /** Longest block that will be pushed: it decides the memory taken. */
  blockFrames: number;
}

/** THD of an arc, by pair: mean of the windows looked at that lie wholly inside it, percent. */
export interface ArcDistortion {
  voltsPercent: number | null;
  ampsPercent: number | null;
}

/** Spectra where they are wanted: an arc's first windows, and a few of the rest. */
export class Distortion {
  readonly #setup: DistortionSetup;
  /** Some hundred kilobytes of samples: there only while samples come. */
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
  /** Windows that began in the arc, looked at or not. */
  #inArc = 0;

  constructor(
    setup: DistortionSetup,
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
      const tools = toolsFor(this.#setup.rateHz);
      const setup = { ...this.#setup, powers: false, tools };
      this.#spectrum = new Spectrum(setup, { spectrum: (row) => this.#take(row) });
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
    this.#inArc = 0;
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
    if (row.start >= this.#arcStart) {
      const at = this.#inArc++;
      if (at < arcFirst || at % arcEvery === 0) this.#spectrum?.window(row);
    } else if (this.#idle++ % idleEvery === 0) this.#spectrum?.window(row);
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
