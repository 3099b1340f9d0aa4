import type { Amperes, Hertz, SampleIndex, Volts } from '../units.ts';
import { singles } from './columns.ts';
import type { CycleRing } from './cycle-ring.ts';

/** What was measured with a load on, true r.m.s. */
export interface LoadPoint {
  volts: Volts;
  amps: Amperes;
}

/** Cycles of one reading: 0.4 s at 60 Hz. Its median leaves out dips of half as long. */
const BLOCK = 24;
/** A tack's reading has this many at least. */
const LEAST = 8;
/** Cycles beside an arc's edge that are neither load nor idle. */
const GUARD = 3;
/** Bins of current, each this much wider than the last, from 2 A to 420 A. */
const BINS = 24;
const RATIO = 1.25;
const FIRST_AMPS = 2;
/** The end of an arc is told late: inside it is only what is older than this. */
const DELAY_CYCLES = 45;
/** Older readings were of a supply that others loaded otherwise. */
const MEMORY_S = 600;

const scratch = new Float64Array(BLOCK);

/**
 * The lowest voltage that was measured at each current of the last ten minutes. A voltage foretold
 * above one that was measured at that current is a contradiction. Bounded: 24 bins.
 */
export class LoadPoints {
  readonly #ring: CycleRing;
  readonly #memory: number;
  readonly #volts: Float32Array;
  readonly #amps: Float32Array;
  readonly #at: Float64Array;
  #from = Number.POSITIVE_INFINITY;

  constructor(ring: CycleRing, rateHz: Hertz) {
    this.#ring = ring;
    this.#memory = MEMORY_S * rateHz;
    const single = singles(2, BINS);
    this.#volts = single();
    this.#amps = single();
    this.#at = new Float64Array(BINS).fill(Number.NEGATIVE_INFINITY);
  }

  arcBegan(at: SampleIndex): void {
    this.#from = at + GUARD * this.#cycle();
  }

  /** A cycle has joined the ring. */
  cycle(): void {
    if (this.#from === Number.POSITIVE_INFINITY || this.#ring.size <= DELAY_CYCLES) return;
    if (this.#ring.start[this.#ring.slot(DELAY_CYCLES)]! >= this.#from) {
      this.#take(DELAY_CYCLES, BLOCK, Number.POSITIVE_INFINITY);
    }
  }

  arcEnded(at: SampleIndex): void {
    const to = at - GUARD * this.#cycle();
    for (let age = Math.min(this.#ring.size - 1, DELAY_CYCLES); age >= LEAST - 1; age--) {
      if (this.#ring.start[this.#ring.slot(age)]! >= this.#from) this.#take(age, LEAST, to);
    }
    this.#from = Number.POSITIVE_INFINITY;
  }

  /** Lowest readings of the last ten minutes that are no older than `since`. */
  lowest(since: SampleIndex): LoadPoint[] {
    const newest = this.#ring.size === 0 ? 0 : this.#ring.end[this.#ring.slot(0)]!;
    const from = Math.max(since, newest - this.#memory);
    const points: LoadPoint[] = [];
    for (let bin = 0; bin < BINS; bin++) {
      if (this.#at[bin]! < from) continue;
      points.push({ volts: this.#volts[bin]!, amps: this.#amps[bin]! });
    }
    return points;
  }

  #cycle(): number {
    const slot = this.#ring.slot(0);
    return this.#ring.size === 0 ? 0 : this.#ring.end[slot]! - this.#ring.start[slot]!;
  }

  /** The block whose oldest cycle is `age` old, of at least `least` cycles that end before `to`. */
  #take(age: number, least: number, to: number): void {
    const ring = this.#ring;
    let count = 0;
    let amps = 0;
    for (; count < BLOCK && count <= age; count++) {
      const slot = ring.slot(age - count);
      if (ring.end[slot]! > to) break;
      scratch[count] = ring.urms[slot]!;
      amps += ring.irms[slot]!;
    }
    if (count < least) return;
    const last = ring.slot(age - count + 1);
    this.#from = ring.end[last]! - this.#cycle() / 4;
    const block = scratch.subarray(0, count).sort();
    this.#keep(block[count >> 1]!, amps / count, ring.end[last]!);
  }

  #keep(volts: number, amps: number, at: number): void {
    const place = Math.floor(Math.log(amps / FIRST_AMPS) / Math.log(RATIO));
    if (!(place >= 0)) return;
    const bin = Math.min(place, BINS - 1);
    const old = this.#at[bin]! < at - this.#memory;
    if (!old && this.#volts[bin]! <= volts) return;
    this.#volts[bin] = volts;
    this.#amps[bin] = amps;
    this.#at[bin] = at;
  }
}
