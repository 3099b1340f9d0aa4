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

/**
 * Measures one step of the current and what the voltage did: a weighted sum c of the cycles
 * around the event, with Σc = 0 and unity for a step, applied to V and I alike. Since the sum is
 * linear, V = E − Z·I gives Σc·V = Σc·E − Z·Σc·I whatever the current did inside the windows,
 * and only the background E is noise.
 *
 * All phasors are turned onto one time reference: frequency and phase of a line through both
 * sides with a common slope, so that neither a frequency off the nominal nor its steady drift
 * looks like a step. Magnitude needs no slope and is read from nearer cycles: each part of the
 * phasor gets the sum that suits its noise. Real axis: the voltage on the side without the arc.
 */
export class StepMeter {
  readonly #ring: CycleRing;
  readonly #noise: BackgroundNoise;
  readonly #radiansPerSampleHertz: number;
  readonly #slots = new Int32Array(MOST_CYCLES);
  /** Centre of each cycle after the event, in cycles; the newest first. */
  readonly #cycles = new Float64Array(MOST_CYCLES);
  readonly #m = new Float64Array(MOST_CYCLES);
  readonly #p = new Float64Array(MOST_CYCLES);
  /** V and I on the common reference: re, im each. */
  readonly #u = new Float64Array(2 * MOST_CYCLES);
  readonly #i = new Float64Array(2 * MOST_CYCLES);
  #count = 0;
  /** How many of the slots lie after the event. */
  #after = 0;

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
    const spread = this.#weighPhases();
    const hertz = this.#ring.hertz[this.#slots[after]!]!;
    const radians = this.#radiansPerSampleHertz * hertz;
    this.#turn(at, radians, idleBefore);
    // Second pass: the slope left over is the frequency's error.
    const slope = this.#phaseSlope(spread, idleBefore);
    this.#turn(
      at,
      radians + (slope * (hertz * this.#radiansPerSampleHertz)) / (2 * Math.PI),
      idleBefore,
    );
    this.#write(evidence, column, at, idleBefore);
    return true;
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
      this.#slots[this.#count] = slot;
      this.#cycles[this.#count] = (ring.centre[slot]! - at) / cycle;
      this.#count++;
      if (isAfter) this.#after++;
    }
  }

  /** Mean of the near cycles after, minus that of the near cycles before. */
  #weighMagnitudes(): void {
    let after = 0;
    let before = 0;
    for (let k = 0; k < this.#count; k++) {
      const cycle = this.#cycles[k]!;
      const near = cycle > -MAGNITUDE_BEFORE && cycle < MAGNITUDE_AFTER;
      this.#m[k] = near ? 1 : 0;
      if (near && k < this.#after) after++;
      else if (near) before++;
    }
    for (let k = 0; k < this.#count; k++) {
      this.#m[k] = this.#m[k]! * (k < this.#after ? 1 / after : -1 / before);
    }
  }

  /** The step of a line broken at the event with one slope; returns Σ(t − mean of its side)². */
  #weighPhases(): number {
    const after = this.#after;
    const before = this.#count - after;
    let later = 0;
    let earlier = 0;
    for (let k = 0; k < this.#count; k++) {
      if (k < after) later += this.#cycles[k]! / after;
      else earlier += this.#cycles[k]! / before;
    }
    let spread = 0;
    for (let k = 0; k < this.#count; k++) {
      spread += (this.#cycles[k]! - (k < after ? later : earlier)) ** 2;
    }
    for (let k = 0; k < this.#count; k++) {
      const isAfter = k < after;
      const own = this.#cycles[k]! - (isAfter ? later : earlier);
      this.#p[k] = (isAfter ? 1 / after : -1 / before) - ((later - earlier) * own) / spread;
    }
    return spread;
  }

  /** Phasors onto the common reference, the idle side's mean voltage on the real axis. */
  #turn(at: number, radiansPerSample: number, idleBefore: boolean): void {
    const ring = this.#ring;
    let re = 0;
    let im = 0;
    for (let k = 0; k < this.#count; k++) {
      const slot = this.#slots[k]!;
      const angle = -radiansPerSample * (ring.centre[slot]! - at);
      const cos = Math.cos(angle);
      const sin = Math.sin(angle);
      this.#u[2 * k] = ring.uRe[slot]! * cos - ring.uIm[slot]! * sin;
      this.#u[2 * k + 1] = ring.uRe[slot]! * sin + ring.uIm[slot]! * cos;
      this.#i[2 * k] = ring.iRe[slot]! * cos - ring.iIm[slot]! * sin;
      this.#i[2 * k + 1] = ring.iRe[slot]! * sin + ring.iIm[slot]! * cos;
      if (k < this.#after !== idleBefore) {
        re += this.#u[2 * k]!;
        im += this.#u[2 * k + 1]!;
      }
    }
    const size = Math.sqrt(re * re + im * im);
    align(this.#u, this.#count, re / size, im / size);
    align(this.#i, this.#count, re / size, im / size);
  }

  /** Slope common to both sides of the phase still left, rad per cycle. */
  #phaseSlope(spread: number, idleBefore: boolean): number {
    const after = this.#after;
    let volts = 0;
    let later = 0;
    let earlier = 0;
    for (let k = 0; k < this.#count; k++) {
      if (k < after) later += this.#cycles[k]! / after;
      else earlier += this.#cycles[k]! / (this.#count - after);
      if (k < after !== idleBefore) volts = this.#u[2 * k]!;
    }
    let sum = 0;
    for (let k = 0; k < this.#count; k++) {
      sum += (this.#cycles[k]! - (k < after ? later : earlier)) * this.#u[2 * k + 1]!;
    }
    return sum / (spread * volts);
  }

  #write(evidence: SupplyEvidence, column: number, at: number, idleBefore: boolean): void {
    const { mR, mX, mY, mVariance, pR, pX, pY, pVariance } = evidence;
    mR[column] = mX[column] = mY[column] = 0;
    pR[column] = pX[column] = pY[column] = 0;
    let lag = 0;
    let share = 0;
    for (let k = 0; k < this.#count; k++) {
      const iRe = this.#i[2 * k]!;
      const iIm = this.#i[2 * k + 1]!;
      mR[column]! += this.#m[k]! * iRe;
      mX[column]! -= this.#m[k]! * iIm;
      mY[column]! -= this.#m[k]! * this.#u[2 * k]!;
      pR[column]! += this.#p[k]! * iIm;
      pX[column]! += this.#p[k]! * iRe;
      pY[column]! -= this.#p[k]! * this.#u[2 * k + 1]!;
      if (k < this.#after === idleBefore) {
        const slot = this.#slots[k]!;
        const arc = idleBefore ? this.#after : this.#count - this.#after;
        lag += Math.atan2(-this.#ring.across(slot), this.#ring.along(slot)) / arc;
        const fundamental = Math.sqrt(iRe * iRe + iIm * iIm);
        share += Math.min(1, fundamental / this.#ring.irms[slot]!) / arc;
      }
    }
    mVariance[column] = this.#noise.magnitudeVariance(this.#m, this.#cycles, this.#count);
    pVariance[column] = this.#noise.phaseVariance(this.#p, this.#cycles, this.#count);
    evidence.at[column] = at;
    evidence.isStep[column] = 1;
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
