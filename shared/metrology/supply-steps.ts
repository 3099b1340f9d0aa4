import type { BackgroundNoise } from './background-noise.ts';
import type { CycleRing } from './cycle-ring.ts';
import type { SupplyEvidence } from './supply-evidence.ts';

/** Cycles around the event that belong to neither side: one before, two after. The arc strikes,
 * the sync settles, and the event itself is known to half a cycle. */
const GUARD_BEFORE = 1;
const GUARD_AFTER = 2;
/** Magnitudes: cycles 2–6 before against 3–8 after. */
const MAGNITUDE_BEFORE = 6;
const MAGNITUDE_AFTER = 8;
/** Phases: wider, since the frequency must be told from the step. */
const PHASE_BEFORE = 12;
export const PHASE_AFTER = 13;
/** Fewer cycles than this on a side are no mean. */
const LEAST_CYCLES = 2;
const MOST_CYCLES = 32;
/** Sync borders wander by less than this part of a cycle. */
const SLACK = 0.05;

// Room for one step at a time: none is left half measured, and every pair of every stream has one.
const slots = new Int32Array(MOST_CYCLES);
/** Centre of each cycle after the event, in cycles; the newest first. */
const cycles = new Float64Array(MOST_CYCLES);
const magnitudeWeights = new Float64Array(MOST_CYCLES);
const phaseWeights = new Float64Array(MOST_CYCLES);
/** V and I on the common reference: re, im each. */
const turnedVolts = new Float64Array(2 * MOST_CYCLES);
const turnedAmps = new Float64Array(2 * MOST_CYCLES);

/**
 * Measures one step of the current and what the voltage did: a weighted sum c of the cycles
 * around the event, with Σc = 0 and unity for a step, applied to V and I alike. Since the sum is
 * linear, V = E − Z·I gives Σc·V = Σc·E − Z·Σc·I whatever the current did inside the windows,
 * and only the background E is noise.
 *
 * All phasors are turned onto one time reference: frequency and phase of a line through both
 * sides with a common slope, so that neither a frequency off the nominal nor its steady drift
 * looks like a step. Where a governor lets the frequency sag the two sides run apart: that is
 * told as `slip`, and no line mends it. Magnitude needs no slope and is read from nearer cycles:
 * each part of the phasor gets the sum that suits its noise. Real axis: the voltage on the side
 * without the arc.
 */
export class StepMeter {
  readonly #ring: CycleRing;
  readonly #noise: BackgroundNoise;
  readonly #radiansPerSampleHertz: number;
  #count = 0;
  /** How many of the slots lie after the event. */
  #after = 0;
  /** Mean time of each side, cycles after the event, and Σ(t − mean)². */
  #later = 0.5;
  #earlier = -0.5;
  #laterSpread = 0.5;
  #earlierSpread = 0.5;

  constructor(ring: CycleRing, noise: BackgroundNoise, rateHz: number) {
    this.#ring = ring;
    this.#noise = noise;
    this.#radiansPerSampleHertz = (2 * Math.PI) / rateHz;
  }

  /**
   * Writes the step at `at` into `column` of `evidence`; `idleBefore` when the arc began there.
   * No cycle outside `from`…`to` (neighbouring events, gaps) is used. False: too few cycles.
   */
  measure(
    at: number,
    idleBefore: boolean,
    from: number,
    to: number,
    evidence: SupplyEvidence,
    column: number,
  ): boolean {
    this.#gather(at, from, to);
    const after = this.#after;
    const before = this.#count - after;
    if (after < LEAST_CYCLES || before < LEAST_CYCLES) return false;
    this.#weighMagnitudes();
    this.#sides();
    const hertz = this.#ring.hertz[slots[after]!]!;
    const radians = this.#radiansPerSampleHertz * hertz;
    this.#turn(at, radians, idleBefore);
    // Second pass: the slope left over is the frequency's error.
    const volts = turnedVolts[2 * (idleBefore ? this.#count - 1 : 0)]!;
    const perCycle = radians / (2 * Math.PI * volts);
    const earlier = this.#slope(after, this.#count, this.#earlier);
    const later = this.#slope(0, after, this.#later);
    const sum = this.#earlierSpread + this.#laterSpread;
    const common = (earlier * this.#earlierSpread + later * this.#laterSpread) / sum;
    evidence.slip[column] = idleBefore ? later - earlier : earlier - later;
    evidence.slipVariance[column] = this.#slipVariance();
    this.#weighPhases();
    this.#turn(at, radians + common * perCycle, idleBefore);
    this.#write(evidence, column, at, idleBefore);
    // A dead phase has no direction to measure along.
    return Number.isFinite(evidence.mY[column]! + evidence.pY[column]! + evidence.amps[column]!);
  }

  #gather(at: number, from: number, to: number): void {
    const ring = this.#ring;
    this.#count = this.#after = 0;
    for (let age = 0; age < ring.size && this.#count < MOST_CYCLES; age++) {
      const slot = ring.slot(age);
      const start = ring.start[slot]!;
      const end = ring.end[slot]!;
      const slack = SLACK * (end - start);
      const cycle = end - start;
      if (start < from + GUARD_AFTER * cycle - slack) break;
      if (end > to - GUARD_BEFORE * cycle + slack) continue;
      const isAfter =
        start >= at + GUARD_AFTER * cycle - slack && end <= at + PHASE_AFTER * cycle + slack;
      const isBefore =
        end <= at - GUARD_BEFORE * cycle + slack && start >= at - PHASE_BEFORE * cycle - slack;
      if (!isAfter && !isBefore) continue;
      slots[this.#count] = slot;
      cycles[this.#count] = (ring.centre[slot]! - at) / cycle;
      this.#count++;
      if (isAfter) this.#after++;
    }
  }

  /** Mean of the near cycles after, minus that of the near cycles before. */
  #weighMagnitudes(): void {
    let after = 0;
    let before = 0;
    for (let k = 0; k < this.#count; k++) {
      const cycle = cycles[k]!;
      const near = cycle > -MAGNITUDE_BEFORE && cycle < MAGNITUDE_AFTER;
      magnitudeWeights[k] = near ? 1 : 0;
      if (near && k < this.#after) after++;
      else if (near) before++;
    }
    for (let k = 0; k < this.#count; k++) {
      magnitudeWeights[k] = magnitudeWeights[k]! * (k < this.#after ? 1 / after : -1 / before);
    }
  }

  /** Means and spreads of time on both sides of the event. */
  #sides(): void {
    const after = this.#after;
    const before = this.#count - after;
    this.#later = this.#earlier = this.#laterSpread = this.#earlierSpread = 0;
    for (let k = 0; k < this.#count; k++) {
      if (k < after) this.#later += cycles[k]! / after;
      else this.#earlier += cycles[k]! / before;
    }
    for (let k = 0; k < this.#count; k++) {
      if (k < after) this.#laterSpread += (cycles[k]! - this.#later) ** 2;
      else this.#earlierSpread += (cycles[k]! - this.#earlier) ** 2;
    }
  }

  /** The step of a line broken at the event, with one slope. */
  #weighPhases(): void {
    const after = this.#after;
    const before = this.#count - after;
    const lever = (this.#later - this.#earlier) / (this.#laterSpread + this.#earlierSpread);
    for (let k = 0; k < this.#count; k++) {
      const isAfter = k < after;
      const own = cycles[k]! - (isAfter ? this.#later : this.#earlier);
      phaseWeights[k] = (isAfter ? 1 / after : -1 / before) - lever * own;
    }
  }

  /** Variance of the difference of the two sides' slopes. */
  #slipVariance(): number {
    for (let k = 0; k < this.#count; k++) {
      phaseWeights[k] =
        k < this.#after
          ? (cycles[k]! - this.#later) / this.#laterSpread
          : (this.#earlier - cycles[k]!) / this.#earlierSpread;
    }
    return this.#noise.phaseVariance(phaseWeights, cycles, this.#count);
  }

  /** Slope of what is left of the phase from `k` to `end`, volts across the voltage a cycle. */
  #slope(from: number, end: number, mean: number): number {
    let sum = 0;
    let spread = 0;
    for (let k = from; k < end; k++) {
      sum += (cycles[k]! - mean) * turnedVolts[2 * k + 1]!;
      spread += (cycles[k]! - mean) ** 2;
    }
    return sum / spread;
  }

  /** Phasors onto the common reference, the idle side's mean voltage on the real axis. */
  #turn(at: number, radians: number, idleBefore: boolean): void {
    const ring = this.#ring;
    let re = 0;
    let im = 0;
    for (let k = 0; k < this.#count; k++) {
      const slot = slots[k]!;
      const angle = -radians * (ring.centre[slot]! - at);
      const cos = Math.cos(angle);
      const sin = Math.sin(angle);
      turnedVolts[2 * k] = ring.uRe[slot]! * cos - ring.uIm[slot]! * sin;
      turnedVolts[2 * k + 1] = ring.uRe[slot]! * sin + ring.uIm[slot]! * cos;
      turnedAmps[2 * k] = ring.iRe[slot]! * cos - ring.iIm[slot]! * sin;
      turnedAmps[2 * k + 1] = ring.iRe[slot]! * sin + ring.iIm[slot]! * cos;
      if (k < this.#after !== idleBefore) {
        re += turnedVolts[2 * k]!;
        im += turnedVolts[2 * k + 1]!;
      }
    }
    const size = Math.sqrt(re * re + im * im);
    align(turnedVolts, this.#count, re / size, im / size);
    align(turnedAmps, this.#count, re / size, im / size);
  }

  #write(evidence: SupplyEvidence, column: number, at: number, idleBefore: boolean): void {
    const { mR, mX, mY, mVariance, pR, pX, pY, pVariance } = evidence;
    mR[column] = mX[column] = mY[column] = 0;
    pR[column] = pX[column] = pY[column] = 0;
    let lag = 0;
    let share = 0;
    let idle = 0;
    for (let k = 0; k < this.#count; k++) {
      const iRe = turnedAmps[2 * k]!;
      const iIm = turnedAmps[2 * k + 1]!;
      mR[column]! += magnitudeWeights[k]! * iRe;
      mX[column]! -= magnitudeWeights[k]! * iIm;
      mY[column]! -= magnitudeWeights[k]! * turnedVolts[2 * k]!;
      pR[column]! += phaseWeights[k]! * iIm;
      pX[column]! += phaseWeights[k]! * iRe;
      pY[column]! -= phaseWeights[k]! * turnedVolts[2 * k + 1]!;
      const weight = magnitudeWeights[k]!;
      // Of the side without the arc the weights are the parts of its mean, but for their sign.
      if (k < this.#after !== idleBefore) {
        idle += Math.abs(weight) * this.#ring.openVolts(slots[k]!, 0, 0);
      } else {
        const slot = slots[k]!;
        const arc = idleBefore ? this.#after : this.#count - this.#after;
        lag += Math.atan2(-this.#ring.across(slot), this.#ring.along(slot)) / arc;
        const fundamental = Math.sqrt(iRe * iRe + iIm * iIm);
        share += Math.min(1, fundamental / this.#ring.irms[slot]!) / arc;
      }
    }
    mVariance[column] = this.#noise.magnitudeVariance(magnitudeWeights, cycles, this.#count);
    pVariance[column] = this.#noise.phaseVariance(phaseWeights, cycles, this.#count);
    evidence.at[column] = at;
    evidence.began[column] = idleBefore ? 1 : 0;
    evidence.idleVolts[column] = idle;
    evidence.blamed[column] = 0;
    evidence.amps[column] = Math.hypot(mR[column]!, mX[column]!);
    evidence.lagRadians[column] = lag;
    evidence.fundamentalShare[column] = share;
  }
}

/** Turns phasors by the conjugate of the unit phasor re + j·im. */
function align(phasors: Float64Array, count: number, re: number, im: number): void {
  for (let k = 0; k < count; k++) {
    const a = phasors[2 * k]!;
    const b = phasors[2 * k + 1]!;
    phasors[2 * k] = a * re + b * im;
    phasors[2 * k + 1] = b * re - a * im;
  }
}
