import { studentFactor95 } from './student.ts';
import { MOST_EDGES as MOST, type SupplyEvidence } from './supply-evidence.ts';

/** Passes of the first, least-absolute fit, that no single step can pull away. */
const ABSOLUTE_PASSES = 15;
/** Equations further off than this many robust deviations are something else's doing. */
const REJECT = 4;
/** Own current warms the wire: what that adds to R in a second of arc, part of R, is fitted with
 * this prior (12 AWG at 25 A: 0.29 K/s with no cooling, 0.11 %/s, of which the circuit's thicker
 * part dilutes some). */
const WARMING = 0.0005;
const WARMING_SD = 0.0004;
/** For all else R may walk by 1 % in ten minutes (2.5 K of copper): old edges count less. */
const WALK = 0.01 ** 2 / 600;
/** What phasors of a current that is just changing leave unsure, part of Z·ΔI; as much of it
 * stays however many steps agree. */
const MODEL = 0.001;

// Room for one fit at a time: none is left half done, and every pair of every stream has two fits.
const weights = new Float64Array(2 * MOST);
const variances = new Float64Array(2 * MOST);
const residuals = new Float64Array(2 * MOST);
const sorted = new Float64Array(MOST);
/** Σ of products: rr rx rh xx xh hh, then ry xy hy. */
const sums = new Float64Array(9);
const parts = new Float64Array(4);
const apart = new Float64Array(MOST);

/** Sample at which R is asked for, and the A²s that the wire has been given by then. */
interface Moment {
  at: number;
  rateHz: number;
  heat: number;
}

/** Degrees of freedom of the background figures behind the variances. */
interface Looks {
  magnitude: number;
  phase: number;
}

/** R and X from weighted equations: the answer's fields, reused. */
export class SupplyFit {
  ohmsR = 0.5;
  ohmsX = 0.5;
  varianceR = 0.5;
  varianceX = 0.5;
  covarianceRX = 0.5;
  /** Student's factors. */
  coverageR = 2.5;
  coverageX = 2.5;
  /** Edges that stand in the fit. */
  steps = 0;
  /** Edges whose voltage the others foretold wrongly, at 95 %. */
  misses = 0;
  /** Heat since each piece, negative: ohms of R · seconds at the arc's current. */
  readonly #heats = new Float64Array(MOST);
  #warming = 0.5;
  /** Relative variance of what R may have walked since the newest edge: all are off alike. */
  #since = 0.5;
  #covarianceRH = 0.5;
  #covarianceXH = 0.5;
  readonly #kept = new Uint8Array(2 * MOST);

  /**
   * Fits the used edges of `evidence` as of a moment; false where there is nothing to fit.
   */
  solve(
    evidence: SupplyEvidence,
    when: Moment,
    { magnitude: magnitudeLooks, phase: phaseLooks }: Looks,
  ): boolean {
    const size = evidence.size;
    if (size === 0) return false;
    this.ohmsR = this.ohmsX = this.#warming = 0;
    this.#age(evidence, when);
    for (let k = 0; k < size; k++) {
      this.#kept[2 * k] = this.#kept[2 * k + 1] = evidence.used[evidence.column(k)]!;
    }
    for (let pass = 0; pass < ABSOLUTE_PASSES; pass++) {
      for (let e = 0; e < 2 * size; e++) {
        const off = pass === 0 ? 1 : Math.abs(residuals[e]!);
        weights[e] = this.#kept[e]! / (variances[e]! * Math.max(off, 0.05));
      }
      if (!this.#least(evidence)) return false;
      this.#reckon(evidence);
    }
    this.#age(evidence, when);
    this.#reckon(evidence);
    let scaleM = this.#reject(0, evidence, magnitudeLooks);
    let scaleP = this.#reject(1, evidence, phaseLooks);
    for (let pass = 0; pass < 2; pass++) {
      for (let e = 0; e < 2 * size; e++) {
        const scale = e % 2 === 0 ? scaleM : scaleP;
        weights[e] = this.#kept[e]! / (variances[e]! * scale);
      }
      if (!this.#least(evidence)) return false;
      this.#reckon(evidence);
      scaleM = this.#scale(0, size, magnitudeLooks);
      scaleP = this.#scale(1, size, phaseLooks);
    }
    this.#leaveOneOut(evidence, scaleM);
    this.#spread(evidence, magnitudeLooks, phaseLooks);
    this.#countMisses(evidence);
    return true;
  }

  /** Whether piece `index`'s change of magnitude was believed. */
  believed(index: number): boolean {
    return this.#kept[2 * index] === 1;
  }

  /** What own current leaves unexplained of piece `index`'s change of magnitude, V. */
  unexplained(evidence: SupplyEvidence, index: number): number {
    const c = evidence.column(index);
    const ohmsR = this.ohmsR + this.#warming * this.#heats[index]!;
    return ohmsR * evidence.mR[c]! + this.ohmsX * evidence.mX[c]! - evidence.mY[c]!;
  }

  /** Background variance, plus the model's and how R may have walked since; the heat since. */
  #age(evidence: SupplyEvidence, { at, rateHz, heat }: Moment): void {
    let square = 0;
    const newest = evidence.at[evidence.column(evidence.size - 1)]!;
    this.#since = (WALK * Math.max(0, at - newest)) / rateHz;
    for (let k = 0; k < evidence.size; k++) {
      square = Math.max(square, evidence.amps[evidence.column(k)]! ** 2);
    }
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      const walked = (WALK * (newest - evidence.at[c]!)) / rateHz;
      const drop = walked * this.ohmsR * this.ohmsR;
      const model = MODEL ** 2 * (this.ohmsR ** 2 + this.ohmsX ** 2) * evidence.amps[c]! ** 2;
      variances[2 * k] = evidence.mVariance[c]! + drop * evidence.mR[c]! ** 2 + model;
      variances[2 * k + 1] = evidence.pVariance[c]! + drop * evidence.pR[c]! ** 2 + model;
      this.#heats[k] = (this.ohmsR * (evidence.heat[c]! - heat)) / square;
    }
  }

  /** Weighted least squares of R, X and the warming, whose prior is one equation more. */
  #least(evidence: SupplyEvidence): boolean {
    const s = sums.fill(0);
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      const { mR, mX, mY, pR, pX, pY } = evidence;
      this.#sum(s, weights[2 * k]!, mR[c]!, mX[c]!, mR[c]! * this.#heats[k]!, mY[c]!);
      this.#sum(s, weights[2 * k + 1]!, pR[c]!, pX[c]!, pR[c]! * this.#heats[k]!, pY[c]!);
    }
    const prior = 1 / WARMING_SD ** 2;
    s[5]! += prior;
    s[8]! += prior * WARMING;
    // The warming is eliminated first; what is left is a two by two.
    const rh = s[2]!;
    const xh = s[4]!;
    const hh = s[5]!;
    const hy = s[8]!;
    const a = s[0]! - (rh * rh) / hh;
    const b = s[1]! - (rh * xh) / hh;
    const d = s[3]! - (xh * xh) / hh;
    const det = a * d - b * b;
    if (!(det > 1e-9 * a * d)) return false;
    const right = s[6]! - (rh * hy) / hh;
    const below = s[7]! - (xh * hy) / hh;
    this.ohmsR = (d * right - b * below) / det;
    this.ohmsX = (a * below - b * right) / det;
    this.#warming = (hy - rh * this.ohmsR - xh * this.ohmsX) / hh;
    this.varianceR = d / det;
    this.varianceX = a / det;
    this.covarianceRX = -b / det;
    this.#covarianceRH = -(rh * this.varianceR + xh * this.covarianceRX) / hh;
    this.#covarianceXH = -(rh * this.covarianceRX + xh * this.varianceX) / hh;
    return true;
  }

  #sum(s: Float64Array, weight: number, r: number, x: number, h: number, y: number): void {
    s[0]! += weight * r * r;
    s[1]! += weight * r * x;
    s[2]! += weight * r * h;
    s[3]! += weight * x * x;
    s[4]! += weight * x * h;
    s[5]! += weight * h * h;
    s[6]! += weight * r * y;
    s[7]! += weight * x * y;
    s[8]! += weight * h * y;
  }

  /** Residuals over the background's standard deviation. */
  #reckon(evidence: SupplyEvidence): void {
    const { mR, mX, mY, pR, pX, pY } = evidence;
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      const ohmsR = this.ohmsR + this.#warming * this.#heats[k]!;
      const m = mY[c]! - ohmsR * mR[c]! - this.ohmsX * mX[c]!;
      const p = pY[c]! - ohmsR * pR[c]! - this.ohmsX * pX[c]!;
      residuals[2 * k] = m / Math.sqrt(variances[2 * k]!);
      residuals[2 * k + 1] = p / Math.sqrt(variances[2 * k + 1]!);
    }
  }

  /** Drops what lies beyond the robust scale; returns that scale, squared. */
  #reject(part: 0 | 1, evidence: SupplyEvidence, looks: number): number {
    let count = 0;
    for (let k = 0; k < evidence.size; k++) {
      if (evidence.used[evidence.column(k)] === 0) continue;
      sorted[count++] = Math.abs(residuals[2 * k + part]!);
    }
    sorted.subarray(0, count).sort();
    const median = (sorted[(count - 1) >> 1]! + sorted[count >> 1]!) / 2;
    const square = (looks + count * (1.4826 * median) ** 2) / (looks + count);
    const limit = REJECT * Math.sqrt(square);
    for (let k = 0; k < evidence.size; k++) {
      if (Math.abs(residuals[2 * k + part]!) > limit) this.#kept[2 * k + part] = 0;
    }
    return square;
  }

  /** Variance of the residuals, the background's own figure being worth `looks` of them. */
  #scale(part: 0 | 1, size: number, looks: number): number {
    let sum = looks;
    let count = -1;
    for (let k = 0; k < size; k++) {
      if (this.#kept[2 * k + part] === 0) continue;
      sum += residuals[2 * k + part]! ** 2;
      count++;
    }
    return sum / (looks + Math.max(count, 0));
  }

  /**
   * How far each edge's voltage lies from what the others foretell, in standard deviations: the
   * residual over √(1 − leverage), or √(1 + …) of one that is not in the fit.
   */
  #leaveOneOut(evidence: SupplyEvidence, scale: number): void {
    const { mR, mX } = evidence;
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      const spread =
        mR[c]! ** 2 * this.varianceR +
        2 * mR[c]! * mX[c]! * this.covarianceRX +
        mX[c]! ** 2 * this.varianceX;
      const leverage = spread / (scale * variances[2 * k]!);
      const rest = this.believed(k) ? Math.max(1 - leverage, 0.01) : 1 + leverage;
      apart[k] = Math.abs(residuals[2 * k]!) / Math.sqrt(scale * rest);
    }
  }

  #countMisses(evidence: SupplyEvidence): void {
    this.misses = 0;
    for (let k = 0; k < evidence.size; k++) {
      const used = evidence.used[evidence.column(k)] === 1;
      if (used && apart[k]! > this.coverageR) this.misses++;
    }
  }

  /**
   * Student's factors by Welch and Satterthwaite: each equation's part in a variance has the
   * degrees of its kind, the part of the warming's prior has no end of them. Then the model's own.
   */
  #spread(evidence: SupplyEvidence, magnitudeLooks: number, phaseLooks: number): void {
    const { varianceR, varianceX, covarianceRX } = this;
    const { mR, mX, pR, pX } = evidence;
    parts.fill(0);
    let keptM = -1;
    let keptP = -1;
    let heat = 0;
    this.steps = 0;
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      keptM += this.#kept[2 * k]!;
      keptP += this.#kept[2 * k + 1]!;
      this.steps += this.#kept[2 * k]!;
      const h = this.#heats[k]!;
      heat += h;
      const m = weights[2 * k]!;
      const p = weights[2 * k + 1]!;
      const pullR = varianceR + this.#covarianceRH * h;
      const pullX = covarianceRX + this.#covarianceXH * h;
      parts[0]! += m * (pullR * mR[c]! + covarianceRX * mX[c]!) ** 2;
      parts[1]! += p * (pullR * pR[c]! + covarianceRX * pX[c]!) ** 2;
      parts[2]! += m * (pullX * mR[c]! + varianceX * mX[c]!) ** 2;
      parts[3]! += p * (pullX * pR[c]! + varianceX * pX[c]!) ** 2;
    }
    const degreesM = magnitudeLooks + Math.max(keptM, 0);
    const degreesP = phaseLooks + Math.max(keptP, 0);
    const spreadR = parts[0]! ** 2 / degreesM + parts[1]! ** 2 / degreesP;
    const spreadX = parts[2]! ** 2 / degreesM + parts[3]! ** 2 / degreesP;
    this.coverageR = studentFactor95(varianceR ** 2 / spreadR);
    this.coverageX = studentFactor95(varianceX ** 2 / spreadX);
    const model = MODEL ** 2 * (this.ohmsR ** 2 + this.ohmsX ** 2);
    // R moved while it was measured; which of its values is meant is unsure by that much.
    const moved = (this.#warming * heat) / Math.max(keptM, 1);
    this.varianceR += model + (moved * moved) / 3 + this.#since * this.ohmsR ** 2;
    this.varianceX += model;
  }
}
