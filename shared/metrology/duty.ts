import type { Amperes, Fraction, Hertz, SampleIndex, Seconds } from '../units.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';

/** The duty cycle's period: ten minutes (IEC 60974-1). */
export const dutyWindowSeconds: Seconds = 600;
/** Resolution of the sliding window: a share is right to a part in 1 200. */
const binSeconds: Seconds = 0.5;
const bins = dutyWindowSeconds / binSeconds;
/** Bins close this many bins late, after the detector has had its say about them. */
const lateBins = 2;

/**
 * Arc-on share and r.m.s. supply current of a sliding ten minutes, the highest of each and when.
 * A stream shorter than ten minutes has neither; what it does show is `atLeast`. Give it every row,
 * then what the detector tells. Memory is fixed: 1 200 bins a quantity.
 */
export class Duty implements HalfCycleSink {
  /** Highest share of any whole window, and the end of that window. */
  highest: Fraction | null = null;
  highestAt: SampleIndex | null = null;
  /** Highest r.m.s. of the supply current over any whole window, worst pair: I1eff as measured. */
  i1eff: Amperes | null = null;
  i1effAt: SampleIndex | null = null;
  /** Share of the newest window; of a stream shorter than it, null. */
  current: Fraction | null = null;
  /** Arc-on samples in the newest window, or in the whole of a shorter stream. */
  onSamples = 0.0;
  readonly #binSamples: number;
  readonly #on = new Float64Array(bins + lateBins + 2);
  readonly #squares: Float64Array[];
  readonly #measured: Float64Array;
  /** The bin of the newest row, the oldest bin not yet closed. */
  #newest = 0;
  #open = 0;
  #burning = false;
  /** Arc-on time is counted up to here. */
  #counted = 0.0;

  constructor(options: { rateHz: Hertz; pairs: number }) {
    this.#binSamples = binSeconds * options.rateHz;
    this.#measured = new Float64Array(this.#on.length);
    this.#squares = Array.from({ length: options.pairs }, () => new Float64Array(this.#on.length));
  }

  /** The share of a whole window cannot be under this, whatever came before and comes after. */
  get atLeast(): Fraction {
    return this.highest ?? Math.min(1, this.onSamples / (bins * this.#binSamples));
  }

  halfCycle(row: HalfCycleRow): void {
    const bin = Math.floor((row.middle + row.end) / 2 / this.#binSamples);
    while (this.#newest < bin) this.#openBin();
    const slot = bin % this.#on.length;
    const length = row.end - row.middle;
    this.#measured[slot] = this.#measured[slot]! + length;
    for (let pair = 0; pair < this.#squares.length; pair++) {
      const squares = this.#squares[pair]!;
      squares[slot] = squares[slot]! + length * row.ihalf[pair]! ** 2;
    }
  }

  began(start: SampleIndex): void {
    this.#burning = true;
    this.#counted = start;
  }

  ended(start: SampleIndex, end: SampleIndex): void {
    if (!this.#burning) this.#counted = start;
    if (end >= this.#counted) this.#count(this.#counted, end, 1);
    else this.#count(end, this.#counted, -1);
    this.#burning = false;
  }

  /** The stream's end: closes what can be closed. */
  end(): void {
    // Rows stop up to a cycle and a half before the stream does: a bin so nearly full is whole.
    const full = this.#measured[this.#newest % this.#on.length]! >= 0.9 * this.#binSamples;
    while (this.#open < this.#newest + (full ? 1 : 0)) this.#close();
    this.#sumUp(this.#newest);
  }

  #openBin(): void {
    this.#newest += 1;
    const slot = this.#newest % this.#on.length;
    this.#on[slot] = 0;
    this.#measured[slot] = 0;
    for (const squares of this.#squares) squares[slot] = 0;
    if (this.#newest - this.#open > lateBins) this.#close();
  }

  #close(): void {
    const border = (this.#open + 1) * this.#binSamples;
    if (this.#burning && this.#counted < border) {
      this.#count(this.#counted, border, 1);
      this.#counted = border;
    }
    this.#sumUp(this.#open);
    this.#open += 1;
    if (this.#open < bins) return;
    const share = this.onSamples / (bins * this.#binSamples);
    this.current = share;
    if (this.highest === null || share > this.highest) {
      this.highest = share;
      this.highestAt = border;
    }
    const amps = this.#effective(this.#open - 1);
    if (amps !== null && (this.i1eff === null || amps > this.i1eff)) {
      this.i1eff = amps;
      this.i1effAt = border;
    }
  }

  /** Summed anew each time: adding the new and taking off the old would drift. */
  #sumUp(last: number): void {
    this.onSamples = sumOver(this.#on, Math.max(0, last - bins + 1), last);
  }

  #effective(last: number): Amperes | null {
    const first = last - bins + 1;
    const measured = sumOver(this.#measured, first, last);
    let worst = 0.0;
    for (const squares of this.#squares) worst = Math.max(worst, sumOver(squares, first, last));
    return measured > 0 ? Math.sqrt(worst / measured) : null;
  }

  #count(from: SampleIndex, to: SampleIndex, sign: 1 | -1): void {
    const oldest = Math.max(0, this.#newest - this.#on.length + 1);
    let at = Math.max(from, oldest * this.#binSamples);
    for (let bin = Math.floor(at / this.#binSamples); at < to; bin++) {
      const last = bin >= this.#newest;
      const border = last ? to : Math.min(to, Math.max(at, (bin + 1) * this.#binSamples));
      const slot = Math.min(bin, this.#newest) % this.#on.length;
      this.#on[slot] = this.#on[slot]! + sign * (border - at);
      at = border;
    }
  }
}

/** Sum of a ring's slots for bins `first` to `last`: at most once around. */
function sumOver(ring: Float64Array, first: number, last: number): number {
  let sum = 0.0;
  let slot = first % ring.length;
  for (let bin = first; bin <= last; bin++) {
    sum += ring[slot]!;
    if (++slot === ring.length) slot = 0;
  }
  return sum;
}
