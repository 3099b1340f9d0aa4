import type { SampleIndex } from '../units.ts';
import type { BackgroundNoise } from './background-noise.ts';
import type { CycleRing } from './cycle-ring.ts';

/** Cycles of a block, 0.13 s at 60 Hz, and blocks compared, the newest: two seconds of arc. */
const BLOCK = 8;
const BLOCKS = 15;
/** Fewer say nothing: a second of arc. */
const LEAST_BLOCKS = 8;
/** Cycles beside an arc's edge that are neither load nor idle; an end is told this late. */
const GUARD = 4;
const DELAY_CYCLES = 12;
/** The median of the moves stands out of the background by so many of its deviations … */
const STANDS_OUT = 6;
/** … and is this part of the supply's ohms, so many of them, and this part of the voltage: a
 * neighbour's arc on the same panel moves it by less (0.05 Ω, 10 A of flutter, 0.2 % of 240 V). */
const LEAST_PART = 0.04;
const LEAST_OHMS = 0.03;
const LEAST_VOLTS_PART = 0.003;

/** From block to block: the newest first. */
const weights = new Float64Array(2 * BLOCK).fill(1 / BLOCK, 0, BLOCK).fill(-1 / BLOCK, BLOCK);
const cycles = Float64Array.from({ length: 2 * BLOCK }, (_, k) => 2 * BLOCK - k);
const sorted = new Float64Array(BLOCKS);

/**
 * How much the open-circuit voltage moves while an arc burns, block by block, against what it does
 * with the machine idle. A loose contact moves it in proportion to the current, whoever else is
 * quiet: the median of the moves, so that a neighbour's one step is none.
 */
export class LoadWander {
  readonly #ring: CycleRing;
  readonly #noise: BackgroundNoise;
  readonly #moves = new Float32Array(BLOCKS);
  #amps = 0.5;
  #count = 0;
  #from = Number.POSITIVE_INFINITY;
  #before = Number.NaN;
  #volts = 0.5;
  /** Where the first of the compared arcs began. */
  #since = 0.5;

  constructor(ring: CycleRing, noise: BackgroundNoise) {
    this.#ring = ring;
    this.#noise = noise;
    this.#since = this.#volts = this.#amps = 0;
  }

  arcBegan(at: SampleIndex): void {
    this.#from = at + GUARD * this.#cycle();
    this.#before = Number.NaN;
    if (this.#count === 0) this.#since = at;
  }

  arcEnded(): void {
    this.#from = Number.POSITIVE_INFINITY;
  }

  /** A cycle has joined the ring. */
  cycle(ohmsR: number, ohmsX: number): void {
    // Before the ohms are known own current moves what it would have to explain.
    if (ohmsR === 0) return;
    const ring = this.#ring;
    if (this.#from === Number.POSITIVE_INFINITY || ring.size < DELAY_CYCLES + BLOCK) return;
    const oldest = ring.slot(DELAY_CYCLES + BLOCK - 1);
    const newest = ring.slot(DELAY_CYCLES);
    if (ring.start[oldest]! < this.#from) return;
    this.#from = ring.end[newest]! - this.#cycle() / 4;
    // A gap: its two sides are no neighbours.
    if (ring.end[newest]! - ring.start[oldest]! > (BLOCK + 0.5) * this.#cycle()) {
      this.#before = Number.NaN;
      return;
    }
    let volts = 0;
    let amps = 0;
    for (let k = 0; k < BLOCK; k++) {
      const slot = ring.slot(DELAY_CYCLES + k);
      volts += ring.openVolts(slot, ohmsR, ohmsX) / BLOCK;
      amps += ring.irms[slot]! / BLOCK;
    }
    if (!Number.isNaN(this.#before)) {
      this.#moves[this.#count++ % BLOCKS] = Math.abs(volts - this.#before);
      this.#amps += (amps - this.#amps) / Math.min(this.#count, BLOCKS);
    }
    this.#before = this.#volts = volts;
  }

  /** Median move of the ohms from block to block, where no background explains it; else 0. */
  ohms(ohmsR: number): number {
    const count = Math.min(this.#count, BLOCKS);
    if (count < LEAST_BLOCKS) return 0;
    for (let k = 0; k < count; k++) sorted[k] = this.#moves[k]!;
    const amps = this.#amps;
    sorted.subarray(0, count).sort();
    const move = sorted[count >> 1]!;
    const sd = Math.sqrt(this.#noise.magnitudeVariance(weights, cycles, 2 * BLOCK));
    const volts = Math.max(STANDS_OUT * sd, LEAST_VOLTS_PART * this.#volts);
    const ohms = Math.max(LEAST_OHMS, LEAST_PART * ohmsR);
    return move > volts && move > ohms * amps ? move / amps : 0;
  }

  get since(): SampleIndex {
    return this.#since;
  }

  #cycle(): number {
    const slot = this.#ring.slot(0);
    return this.#ring.size === 0 ? 0 : this.#ring.end[slot]! - this.#ring.start[slot]!;
  }
}
