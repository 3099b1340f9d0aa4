import type { Hertz, Seconds } from '../units.ts';

/**
 * Under this many counts from zero to crest a level says nothing of the converter: the idle current
 * of a machine is a few counts of steps.
 */
const leastCounts = 64;
/** A crest that leaves its level in smaller steps, in counts, is round, however flat it looks. */
const leastDrop = 4;
/** Of runs that are only a sample too long so many are asked, no two leaving it alike. */
const leastShortRuns = 10;
const leastSpread = 16;
/**
 * A value that stands still this long away from its crest was repeated, not measured: a sine at
 * nine tenths of its crest passes a hundredth of it in half a degree.
 */
const heldSeconds: Seconds = 0.0005;
const heldSamples = 8;
/** Held values lie between these parts of the largest one: not in a crest, nor at rest. */
const heldFrom = 0.1;
const heldTo = 0.9;

/** What is odd about one channel's samples. */
export interface ChannelOdds {
  /** Crests that stood at one extreme for longer than an unclipped one can. */
  clipped: number;
  /** Longest run of one repeated value that is neither a crest nor rest, s. */
  heldSeconds: Seconds;
  /** Longest run of one value away from rest, a crest or not, s, and the value. */
  stillSeconds: Seconds;
  stillAt: number;
}

/**
 * Runs of equal samples of one channel: a converter or an amplifier at its limit repeats its
 * largest value, a driver that lost samples its last one.
 *
 * An unclipped sine of A counts stays within one count of its crest for n ≤ 1 + ⌊2·fs·arccos(1 −
 * 1/A)/(2πf)⌋ samples; the flattest crest that a third harmonic makes (level to the fourth power)
 * for some (3/A)^¼ of a radian on either side. A count is the least step that was seen, so values
 * that were scaled, and floats, do as well. Equality is with the extreme so far: a supply that
 * rectifiers flatten has a sloping top that comes back to no value twice.
 */
export class ChannelRuns {
  readonly #rateHz: Hertz;
  readonly #hertz: Hertz;
  #last = Number.NaN;
  #run = 0.0;
  #low = Number.POSITIVE_INFINITY;
  #high = Number.NEGATIVE_INFINITY;
  /** Least step between two samples, 0 excepted: one count. */
  #count = Number.POSITIVE_INFINITY;
  readonly #top = new Crests();
  readonly #bottom = new Crests();
  #held = 0.0;
  #still = 0.0;
  #stillAt = 0.0;
  #sum = 0.0;
  #samples = 0.0;

  constructor(rateHz: Hertz, hertz: Hertz) {
    this.#rateHz = rateHz;
    this.#hertz = hertz;
  }

  /** Half of what lies between the extremes so far; 0 before the first sample. */
  get amplitude(): number {
    return this.#high >= this.#low ? (this.#high - this.#low) / 2 : 0;
  }

  /** Mean of all samples over the amplitude; 0 while there is none. */
  get offsetShare(): number {
    const { amplitude } = this;
    return amplitude > 0 ? this.#sum / this.#samples / amplitude : 0;
  }

  /** Takes the first `frames` samples. */
  push(samples: Float64Array, frames: number): void {
    let last = this.#last;
    let run = this.#run;
    let sum = 0.0;
    let low = this.#low;
    let high = this.#high;
    let count = this.#count;
    for (let k = 0; k < frames; k++) {
      const value = samples[k]!;
      sum += value;
      if (value === last) {
        run++;
        continue;
      }
      if (run > 1) {
        this.#count = count;
        this.#ended(last, run, Math.abs(value - last), low, high);
      }
      const step = Math.abs(value - last);
      if (step < count) count = step;
      // A value beyond the extreme so far: what stood there was no limit.
      if (value > high) {
        high = value;
        this.#top.clear();
      }
      if (value < low) {
        low = value;
        this.#bottom.clear();
      }
      last = value;
      run = 1;
    }
    this.#last = last;
    this.#run = run;
    this.#low = low;
    this.#high = high;
    this.#count = count;
    this.#sum += sum;
    this.#samples += frames;
    if (run / this.#rateHz > this.#still) this.#stands(last, run);
  }

  /** Samples that are not there: no run goes on through them. */
  skip(): void {
    this.#last = Number.NaN;
    this.#run = 0;
  }

  /** What was seen since the newest `mark`. */
  odds(): ChannelOdds {
    return {
      clipped: this.#top.clipped(this.#count) + this.#bottom.clipped(this.#count),
      heldSeconds: this.#held,
      stillSeconds: this.#still,
      stillAt: this.#stillAt,
    };
  }

  /** From here on odds count anew; the extremes and the size of a count stay known. */
  mark(): void {
    this.#top.mark();
    this.#bottom.mark();
    this.#held = this.#still = 0;
  }

  #stands(value: number, run: number): void {
    if (Math.abs(value) < heldFrom * Math.max(this.#high, -this.#low)) return;
    this.#still = run / this.#rateHz;
    this.#stillAt = value;
  }

  /** A run of `run` samples at `value` is over; the sample after it lies `leaves` away. */
  #ended(value: number, run: number, leaves: number, low: number, high: number): void {
    if (run / this.#rateHz > this.#still) this.#stands(value, run);
    const amplitude = (high - low) / 2;
    const counts = amplitude / this.#count;
    if (!(counts >= leastCounts)) return;
    if (value === high) this.#crest(this.#top, run, leaves, counts);
    else if (value === low) this.#crest(this.#bottom, run, leaves, counts);
    else this.#aside(Math.abs(value) / Math.max(high, -low), run, counts);
  }

  #crest(of: Crests, run: number, leaves: number, counts: number): void {
    const round = 1 + Math.floor(this.#spanOf(Math.acos(1 - 1 / counts)));
    if (run <= round) return;
    const flattest = 1 + Math.floor(this.#spanOf((3 / counts) ** 0.25));
    if (leaves < leastDrop * this.#count && run <= flattest) return;
    // Two samples either side of a crest may be equal where the rate is a multiple of the mains'.
    if (run >= round + 2) of.long++;
    else of.addShort(leaves);
  }

  #aside(part: number, run: number, counts: number): void {
    if (part < heldFrom || part > heldTo) return;
    const least = Math.max(heldSamples, heldSeconds * this.#rateHz);
    if (run < Math.max(least, 2 * this.#spanOf((3 / counts) ** 0.25))) return;
    this.#held = Math.max(this.#held, run / this.#rateHz);
  }

  /** Samples in which the mains turn by `radians` to either side. */
  #spanOf(radians: number): number {
    return (2 * this.#rateHz * radians) / (2 * Math.PI * this.#hertz);
  }
}

/** Runs at one extreme that are longer than an unclipped crest's. */
class Crests {
  long = 0;
  #short = 0;
  /** The least and the most by which the sample after a short one lay away. */
  #leastLeave = Number.POSITIVE_INFINITY;
  #mostLeave = 0.0;
  /** Those before the newest `mark`. */
  #longBefore = 0;
  #shortBefore = 0;

  /** One sample too long: chance, unless there are many and no two are left alike. */
  addShort(leaves: number): void {
    this.#short++;
    this.#leastLeave = Math.min(this.#leastLeave, leaves);
    this.#mostLeave = Math.max(this.#mostLeave, leaves);
  }

  clipped(count: number): number {
    const spread = this.#mostLeave - this.#leastLeave;
    const many = this.#short >= leastShortRuns && spread >= leastSpread * count;
    return this.long - this.#longBefore + (many ? this.#short - this.#shortBefore : 0);
  }

  mark(): void {
    this.#longBefore = this.long;
    this.#shortBefore = this.#short;
  }

  clear(): void {
    this.long = this.#short = this.#longBefore = this.#shortBefore = 0;
    this.#leastLeave = Number.POSITIVE_INFINITY;
    this.#mostLeave = 0;
  }
}
