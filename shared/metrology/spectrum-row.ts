import type { Hertz, SampleIndex } from '../units.ts';
import type { CyclesPerWindow, HarmonicSet } from './harmonics.ts';
import type { Power1459 } from './power-1459.ts';

/** Spectra and powers of one voltage–current pair over one 10/12-cycle window. */
export interface PairSpectrum {
  readonly volts: HarmonicSet;
  readonly amps: HarmonicSet;
  readonly power: Power1459;
  /** Highest absolute sample over the r.m.s. value; √2 for a sine. NaN where there is nothing. */
  voltsCrest: number;
  ampsCrest: number;
}

/**
 * One 10/12-cycle window's spectra. One object is reused for every call of a sink: copy what must
 * outlive the call.
 */
export interface SpectrumRow {
  start: SampleIndex;
  end: SampleIndex;
  cycles: CyclesPerWindow;
  /** Mean fundamental frequency of the window. */
  hertz: Hertz;
  /** False where the sync coasted through any of its cycles: read its spectra with doubt. */
  whole: boolean;
  /** It holds a part of a dip, swell or interruption. */
  flagged: boolean;
  readonly pairs: readonly PairSpectrum[];
}

export interface SpectrumSink {
  spectrum(row: SpectrumRow): void;
}
