import type { BackgroundNoise } from './background-noise.ts';
import type { CycleRing } from './cycle-ring.ts';
import type { SupplyEvidence } from './supply-evidence.ts';

/** Three neighbouring blocks of two cycles: what is left of the middle one once the line through
 * its neighbours is taken away moves neither with drift nor with the frequency. */
const GROUP = 6;
const WEIGHTS = Float64Array.of(-0.25, -0.25, 0.5, 0.5, -0.25, -0.25);
const CYCLES = Float64Array.of(5, 4, 3, 2, 1, 0);
/** The end of an arc is told late: inside it is only what is older than this. */
const DELAY_CYCLES = 60;
/** Not whole, so that an arc which begins on a border has no cycle that is in and out. */
const GUARD_CYCLES = 2.9;
/** A second of arc: with fewer groups their own scatter says nothing. */
const LEAST_GROUPS = 8;
/** No loop of a welding circuit is above this; a larger answer is another load's. */
const MOST_OHMS = 3;
const OUTLIER = 6;

/**
 * Regression inside an arc: short circuits and ramps move the current, and the voltage answers
 * by −Z. Causality runs the other way as well: a machine of constant power draws more when the
 * background falls, which looks like impedance. Its answer is no larger than I/V amperes a volt,
 * so what it can pretend is at most variance(E)·(I/V)/variance(I); that bound joins the variance
 * in full, and where the current hardly moves the ripple says nothing, as it should.
 */
export class ArcRipple {
  readonly #ring: CycleRing;
  readonly #noise: BackgroundNoise;
  readonly #radiansPerSampleHertz: number;
  #from = Number.POSITIVE_INFINITY;
  #groups = 0;
  #squares = 0.5;
  #alongIRe = 0.5;
  #alongIIm = 0.5;
  #alongURe = 0.5;
  #alongUIm = 0.5;
  #uReSquares = 0.5;
  #uImSquares = 0.5;
  #admittance = 0.5;
  #lag = 0.5;
  #share = 0.5;

  constructor(ring: CycleRing, noise: BackgroundNoise, rateHz: number) {
    this.#ring = ring;
    this.#noise = noise;
    this.#radiansPerSampleHertz = (2 * Math.PI) / rateHz;
  }

  begin(at: number): void {
    this.#groups = 0;
    this.#squares = this.#alongIRe = this.#alongIIm = this.#alongURe = this.#alongUIm = 0;
    this.#uReSquares = this.#uImSquares = this.#admittance = this.#lag = this.#share = 0;
    this.#from = at;
    const slot = this.#ring.slot(0);
    this.#from = at + GUARD_CYCLES * (this.#ring.end[slot]! - this.#ring.start[slot]!);
  }

  /** Takes the groups that are surely inside the arc; call once a cycle while it burns. */
  cycle(): void {
    if (this.#ring.size > DELAY_CYCLES) this.#group(DELAY_CYCLES, Number.POSITIVE_INFINITY);
  }

  /** The arc ended at `at`: writes what it taught into `column`; false where that is nothing. */
  finish(at: number, evidence: SupplyEvidence, column: number): boolean {
    const ring = this.#ring;
    const cycle = ring.end[ring.slot(0)]! - ring.start[ring.slot(0)]!;
    const to = at - GUARD_CYCLES * cycle;
    for (let age = Math.min(ring.size - 1, DELAY_CYCLES); age >= GROUP - 1; age--) {
      this.#group(age, to);
    }
    this.#from = Number.POSITIVE_INFINITY;
    if (this.#groups < LEAST_GROUPS || this.#squares === 0) return false;
    this.#write(at, evidence, column);
    return true;
  }

  /** The group whose oldest cycle is `age` old, if it is whole, new and inside. */
  #group(age: number, to: number): void {
    const ring = this.#ring;
    const first = ring.slot(age);
    const last = ring.slot(age - GROUP + 1);
    const cycle = ring.end[first]! - ring.start[first]!;
    if (ring.start[first]! < this.#from || ring.end[last]! > to) return;
    if (ring.end[last]! - ring.start[first]! > (GROUP + 0.5) * cycle) return;
    this.#from = ring.end[last]! - cycle / 4;
    this.#take(age);
  }

  #take(age: number): void {
    const ring = this.#ring;
    const middle = ring.slot(age - 2);
    const radians = this.#radiansPerSampleHertz * ring.hertz[middle]!;
    const u = Math.sqrt(ring.uRe[middle]! ** 2 + ring.uIm[middle]! ** 2);
    const re = ring.uRe[middle]! / u;
    const im = ring.uIm[middle]! / u;
    let uRe = 0;
    let uIm = 0;
    let iRe = 0;
    let iIm = 0;
    for (let k = 0; k < GROUP; k++) {
      const slot = ring.slot(age - k);
      const angle = radians * (ring.centre[middle]! - ring.centre[slot]!);
      const cos = WEIGHTS[k]! * (Math.cos(angle) * re + Math.sin(angle) * im);
      const sin = WEIGHTS[k]! * (Math.sin(angle) * re - Math.cos(angle) * im);
      uRe += ring.uRe[slot]! * cos - ring.uIm[slot]! * sin;
      uIm += ring.uRe[slot]! * sin + ring.uIm[slot]! * cos;
      iRe += ring.iRe[slot]! * cos - ring.iIm[slot]! * sin;
      iIm += ring.iRe[slot]! * sin + ring.iIm[slot]! * cos;
    }
    this.#add(middle, u, uRe, uIm, iRe, iIm);
  }

  /** One group's second differences, against the part that lies along the arc's own current. */
  #add(middle: number, u: number, uRe: number, uIm: number, iRe: number, iIm: number): void {
    const ring = this.#ring;
    const along = ring.along(middle);
    const across = ring.across(middle);
    const size = Math.sqrt(along * along + across * across);
    if (size === 0) return;
    const p = (iRe * along + iIm * across) / size;
    const sigma = Math.sqrt(this.#noise.magnitudeVariance(WEIGHTS, CYCLES, GROUP));
    if (Math.abs(uRe) > MOST_OHMS * Math.abs(p) + OUTLIER * sigma) return;
    this.#groups++;
    this.#squares += p * p;
    this.#alongIRe += p * iRe;
    this.#alongIIm += p * iIm;
    this.#alongURe += p * uRe;
    this.#alongUIm += p * uIm;
    this.#uReSquares += uRe * uRe;
    this.#uImSquares += uIm * uIm;
    this.#admittance += size / (u * u * u);
    this.#lag += Math.atan2(-across, along);
    this.#share += Math.min(1, size / u / ring.irms[middle]!);
  }

  #write(at: number, evidence: SupplyEvidence, column: number): void {
    const scale = 1 / Math.sqrt(this.#squares);
    evidence.at[column] = at;
    evidence.isStep[column] = 0;
    evidence.amps[column] = 0;
    evidence.lagRadians[column] = this.#lag / this.#groups;
    evidence.fundamentalShare[column] = this.#share / this.#groups;
    evidence.mR[column] = this.#alongIRe * scale;
    evidence.mX[column] = -this.#alongIIm * scale;
    evidence.mY[column] = -this.#alongURe * scale;
    evidence.pR[column] = this.#alongIIm * scale;
    evidence.pX[column] = this.#alongIRe * scale;
    evidence.pY[column] = -this.#alongUIm * scale;
    const m = this.#noise.magnitudeVariance(WEIGHTS, CYCLES, GROUP);
    const p = this.#noise.phaseVariance(WEIGHTS, CYCLES, GROUP);
    evidence.mVariance[column] = this.#variance(m, this.#uReSquares, this.#alongURe);
    evidence.pVariance[column] = this.#variance(p, this.#uImSquares, this.#alongUIm);
  }

  /** The larger of the background's variance and the groups' own, and the machine's answer. */
  #variance(background: number, squares: number, along: number): number {
    const own = (squares - (along * along) / this.#squares) / (this.#groups - 1);
    const variance = Math.max(background, own);
    const pretended = (variance * this.#admittance) / Math.sqrt(this.#squares);
    return variance + pretended * pretended;
  }
}
