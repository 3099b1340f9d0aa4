import { assert } from '../assert.ts';
import type { Hertz } from '../units.ts';
import { Fft } from './fft.ts';
import { FractionalReader } from './fractional-reader.ts';
import { HIGHEST_ORDER } from './harmonics.ts';

/** Lowest frequencies that the cycle sync follows with windows of 10 and of 12 cycles. */
const LOWEST_OF_TEN = 42.5;
const LOWEST_OF_TWELVE = 51;
/** Orders end here, in parts of the sampling rate; 18 taps still read this right to 0.3 %. */
export const HIGHEST_PART = 0.42;
/** Up to here 6 taps do: the 50th of 60 Hz at 10 240/s lies at 0.293. */
const HIGHEST_PART_OF_SIX = 0.3;

/**
 * Tables and scratch memory for one sampling rate (190 kB at 10 240/s, 5 ms to make). A window is
 * done before the next begins, so all spectra of one rate in one process may share a set.
 */
export class SpectrumTools {
  readonly rateHz: Hertz;
  readonly fft: Fft;
  readonly reader: FractionalReader;
  readonly volts: Float64Array;
  readonly amps: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly gains = new Float64Array(HIGHEST_ORDER + 1);

  constructor(rateHz: Hertz) {
    assert(rateHz >= 1000, 'spectra need 1000 samples a second');
    this.rateHz = rateHz;
    const points = pointsPerWindow(rateHz);
    const six = (HIGHEST_ORDER + 0.5) * 60 <= HIGHEST_PART_OF_SIX * rateHz;
    this.reader = new FractionalReader(six ? 6 : 18, six ? HIGHEST_PART_OF_SIX : HIGHEST_PART);
    this.fft = new Fft(points);
    this.volts = new Float64Array(points);
    this.amps = new Float64Array(points);
    this.re = new Float64Array(points / 2 + 1);
    this.im = new Float64Array(points / 2 + 1);
  }

  /** What the reading loses at each order; gives the highest order that it reads. */
  prepareGains(hertz: Hertz): number {
    const part = hertz / this.rateHz;
    const top = Math.min(HIGHEST_ORDER, Math.floor(HIGHEST_PART / part - 0.5));
    for (let h = 0; h <= HIGHEST_ORDER; h++) {
      this.gains[h] = h <= top ? this.reader.gainAt(h * part) : 1;
    }
    return top;
  }
}

/**
 * Places a window is read at: so many that what lies above the sampling rate's half is not folded
 * onto order 50 or below, at either number of cycles and the lowest frequency that goes with it.
 */
function pointsPerWindow(rateHz: Hertz): number {
  const ten = 10 * (HIGHEST_ORDER + 1 + rateHz / 2 / LOWEST_OF_TEN);
  const twelve = 12 * (HIGHEST_ORDER + 1 + rateHz / 2 / LOWEST_OF_TWELVE);
  return 2 ** Math.ceil(Math.log2(Math.max(ten, twelve)));
}
