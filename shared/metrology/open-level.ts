import type { SampleIndex, Volts } from '../units.ts';
import type { CycleRing } from './cycle-ring.ts';

/** Cycles that say where the open-circuit voltage is now: a second. */
const NOW_CYCLES = 60;
/** Cycles of idle that say how far from a sine the supply is by itself. */
const IDLE_CYCLES = 6;
/** Memory of how far it moves, in cycles: twenty seconds. */
const DRIFT_CYCLES = 1200;

/** A dip is an event, no scatter: what is further off than this counts as that much. */
const CLIP = 4;
const CLIP_PART = 0.005;

/** Where the open-circuit voltage is, how far it moves, and how far from a sine it is. */
export class OpenLevel {
  /** R.m.s. over fundamental: the supply's own harmonics, since in the arc are the machine's. */
  rmsRatio = 1.5;
  readonly #ring: CycleRing;
  #level = 0.5;
  #square = 0.5;
  #cycles = 0;

  constructor(ring: CycleRing) {
    this.#ring = ring;
    this.rmsRatio = 1;
    this.#level = this.#square = 0;
  }

  /** A cycle has joined the ring, and the ohms are known. */
  cycle(ohmsR: number, ohmsX: number): void {
    const volts = this.#ring.openVolts(this.#ring.slot(0), ohmsR, ohmsX);
    this.#cycles = Math.min(this.#cycles + 1, DRIFT_CYCLES);
    if (this.#cycles === 1) this.#level = volts;
    const most = Math.max(CLIP * this.sd, CLIP_PART * this.#level);
    const off = Math.min(Math.max(volts - this.#level, -most), most);
    this.#level += off / this.#cycles;
    this.#square += (off * off * (1 - 1 / this.#cycles) - this.#square) / this.#cycles;
  }

  /** Scatter over the last twenty seconds. */
  get sd(): Volts {
    return Math.sqrt(this.#square);
  }

  /** True r.m.s. of the open-circuit voltage over the last second. */
  now(ohmsR: number, ohmsX: number): Volts {
    const ring = this.#ring;
    const count = Math.min(ring.size, NOW_CYCLES);
    let sum = 0;
    for (let age = 0; age < count; age++) {
      sum += ring.openVolts(ring.slot(age), ohmsR, ohmsX);
    }
    return (this.rmsRatio * sum) / count;
  }

  /** Looks at the voltage's own harmonics just before `at`, where an arc began. */
  arcBegan(at: SampleIndex): void {
    const ring = this.#ring;
    let sum = 0;
    let count = 0;
    for (let age = 0; age < ring.size && count < IDLE_CYCLES; age++) {
      const slot = ring.slot(age);
      if (ring.end[slot]! > at) continue;
      sum += ring.urms[slot]! / ring.openVolts(slot, 0, 0);
      count++;
    }
    if (count > 0) this.rmsRatio = sum / count;
  }
}
