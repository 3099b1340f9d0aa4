import type { BackgroundNoise } from './background-noise.ts';
import type { CycleRing } from './cycle-ring.ts';
import type { OtherLoadEvent } from './supply-estimate.ts';
import type { SupplyEvidence } from './supply-evidence.ts';

/** Cycles whose mean says where the voltage is now, and those before the arc. */
const NOW = 12;
const BEFORE = 6;
/** Cycles of an arc before it is asked: half a second at 60 Hz. */
const LEAST_CYCLES = 30;
/** A fall of which one step makes up this part was no contact that heats. */
const STEP_PART = 0.5;

const weights = new Float64Array(NOW + BEFORE).fill(1 / NOW, 0, NOW).fill(-1 / BEFORE, NOW);
const cycles = new Float64Array(NOW + BEFORE);

/**
 * While an arc burns: the edge that its end would be if it ended now on the supply that it began
 * on. How far that supply may have walked since is in the variance, so what is told within seconds
 * is a contact that heats in earnest.
 */
export class HotNow {
  readonly #ring: CycleRing;
  readonly #noise: BackgroundNoise;

  constructor(ring: CycleRing, noise: BackgroundNoise) {
    this.#ring = ring;
    this.#noise = noise;
  }

  /** Writes it into the open provisional column; false where there is nothing to say yet. */
  write(
    evidence: SupplyEvidence,
    ohmsR: number,
    ohmsX: number,
    held: readonly OtherLoadEvent[],
  ): boolean {
    const ring = this.#ring;
    if (evidence.size === 0 || ring.size < LEAST_CYCLES) return false;
    const start = evidence.column(evidence.size - 1);
    if (evidence.began[start] === 0) return false;
    const newest = ring.slot(0);
    const cycle = ring.end[newest]! - ring.start[newest]!;
    const elapsed = (ring.end[newest]! - evidence.at[start]!) / cycle;
    if (elapsed < LEAST_CYCLES) return false;
    const column = evidence.openProvisional;
    const open = evidence.idleVolts[start]!;
    let volts = 0;
    let along = 0;
    let across = 0;
    for (let age = 0; age < NOW; age++) {
      const slot = ring.slot(age);
      const u = ring.openVolts(slot, 0, 0);
      volts += u / NOW;
      along += ring.along(slot) / u / NOW;
      across += ring.across(slot) / u / NOW;
      cycles[age] = elapsed - age;
    }
    for (let k = 0; k < BEFORE; k++) cycles[NOW + k] = -k;
    // V lags E by what the current drops across it; onto E's axis with all of it.
    const sine = (ohmsX * along + ohmsR * across) / open;
    const cosine = Math.sqrt(Math.max(0, 1 - sine * sine));
    const re = along * cosine + across * sine;
    const im = across * cosine - along * sine;
    const drop = open - volts * cosine;
    const more = drop - (ohmsR * re - ohmsX * im);
    for (const { at, volts: step } of held) {
      if (at > evidence.at[start]! && -step > STEP_PART * Math.abs(more)) return false;
    }
    evidence.mR[column] = -re;
    evidence.mX[column] = im;
    evidence.mY[column] = -drop;
    evidence.mVariance[column] = this.#noise.magnitudeVariance(weights, cycles, NOW + BEFORE);
    // Across the voltage: the reactance of the arc's start, and the ohms that came on top.
    evidence.pR[column] = evidence.pR[start]!;
    evidence.pX[column] = evidence.pX[start]!;
    evidence.pY[column] = evidence.pY[start]! + (more / re) * evidence.pR[start]!;
    evidence.pVariance[column] = evidence.pVariance[start]!;
    evidence.slip[column] = evidence.slip[start]!;
    evidence.slipVariance[column] = evidence.slipVariance[start]!;
    evidence.at[column] = ring.end[newest]!;
    evidence.began[column] = evidence.blamed[column] = 0;
    evidence.used[column] = 1;
    evidence.amps[column] = Math.hypot(re, im);
    evidence.idleVolts[column] = open;
    evidence.heat[column] = evidence.heat[start]!;
    evidence.lagRadians[column] = Math.atan2(-across, along);
    evidence.fundamentalShare[column] = evidence.fundamentalShare[start]!;
    return true;
  }
}
