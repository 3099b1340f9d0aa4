import { studentFactor95 } from './student.ts';
import { PROVISIONAL, type SupplyEvidence } from './supply-evidence.ts';

const MOST = 64 + PROVISIONAL;
/** Passes of the first, least-absolute fit, that no single step can pull away. */
const ABSOLUTE_PASSES = 15;
/** Equations further off than this many robust deviations are something else's doing. */
const REJECT = 4;
/** A wire's resistance may walk by 5 % in ten minutes (13 K of copper): old steps count less. */
const HEATING = 0.05 ** 2 / 600;
/** What phasors and ratios leave unsure however many steps agree, part of |Z|. */
const MODEL = 0.003;

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
  /** Steps that stand in the fit. */
  steps = 0;
  readonly #weights = new Float64Array(2 * MOST);
  readonly #variances = new Float64Array(2 * MOST);
  readonly #residuals = new Float64Array(2 * MOST);
  readonly #sorted = new Float64Array(MOST);
  readonly #kept = new Uint8Array(2 * MOST);
  readonly #rateHz: number;

  constructor(rateHz: number) {
    this.#rateHz = rateHz;
  }

  /**
   * Fits all of `evidence` as of sample `at`. `looks` are the degrees of freedom of the
   * background figures behind the variances. False where there is nothing to fit.
   */
  solve(evidence: SupplyEvidence, at: number, magnitudeLooks: number, phaseLooks: number): boolean {
    const size = evidence.size;
    if (size === 0) return false;
    this.ohmsR = this.ohmsX = 0;
    this.#age(evidence, at);
    this.#kept.fill(1);
    for (let pass = 0; pass < ABSOLUTE_PASSES; pass++) {
      for (let e = 0; e < 2 * size; e++) {
        const off = pass === 0 ? 1 : Math.abs(this.#residuals[e]!);
        this.#weights[e] = 1 / (this.#variances[e]! * Math.max(off, 0.05));
      }
      if (!this.#least(evidence)) return false;
      this.#reckon(evidence);
    }
    this.#age(evidence, at);
    this.#reckon(evidence);
    let scaleM = this.#reject(0, size, magnitudeLooks);
    let scaleP = this.#reject(1, size, phaseLooks);
    for (let pass = 0; pass < 2; pass++) {
      for (let e = 0; e < 2 * size; e++) {
        const scale = e % 2 === 0 ? scaleM : scaleP;
        this.#weights[e] = this.#kept[e]! / (this.#variances[e]! * scale);
      }
      if (!this.#least(evidence)) return false;
      this.#reckon(evidence);
      scaleM = this.#scale(0, size, magnitudeLooks);
      scaleP = this.#scale(1, size, phaseLooks);
    }
    this.#spread(evidence, magnitudeLooks, phaseLooks);
    return true;
  }

  /** Whether magnitudes and phases of piece `index` were both believed. */
  believed(index: number): boolean {
    return this.#kept[2 * index] === 1 && this.#kept[2 * index + 1] === 1;
  }

  /** What own current leaves unexplained of piece `index`'s change of magnitude, V. */
  unexplained(evidence: SupplyEvidence, index: number): number {
    const c = evidence.column(index);
    return this.ohmsR * evidence.mR[c]! + this.ohmsX * evidence.mX[c]! - evidence.mY[c]!;
  }

  /** Background variance, plus what the wire may have warmed since. */
  #age(evidence: SupplyEvidence, at: number): void {
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      const walked = (HEATING * Math.max(0, at - evidence.at[c]!)) / this.#rateHz;
      const drop = walked * this.ohmsR * this.ohmsR;
      this.#variances[2 * k] = evidence.mVariance[c]! + drop * evidence.mR[c]! ** 2;
      this.#variances[2 * k + 1] = evidence.pVariance[c]! + drop * evidence.pR[c]! ** 2;
    }
  }

  #least(evidence: SupplyEvidence): boolean {
    let rr = 0;
    let rx = 0;
    let xx = 0;
    let ry = 0;
    let xy = 0;
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      const wm = this.#weights[2 * k]!;
      const wp = this.#weights[2 * k + 1]!;
      const { mR, mX, mY, pR, pX, pY } = evidence;
      rr += wm * mR[c]! * mR[c]! + wp * pR[c]! * pR[c]!;
      rx += wm * mR[c]! * mX[c]! + wp * pR[c]! * pX[c]!;
      xx += wm * mX[c]! * mX[c]! + wp * pX[c]! * pX[c]!;
      ry += wm * mR[c]! * mY[c]! + wp * pR[c]! * pY[c]!;
      xy += wm * mX[c]! * mY[c]! + wp * pX[c]! * pY[c]!;
    }
    const det = rr * xx - rx * rx;
    if (!(det > 1e-9 * rr * xx)) return false;
    this.ohmsR = (xx * ry - rx * xy) / det;
    this.ohmsX = (rr * xy - rx * ry) / det;
    this.varianceR = xx / det;
    this.varianceX = rr / det;
    this.covarianceRX = -rx / det;
    return true;
  }

  /** Residuals over the background's standard deviation. */
  #reckon(evidence: SupplyEvidence): void {
    const { mR, mX, mY, pR, pX, pY } = evidence;
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      const m = mY[c]! - this.ohmsR * mR[c]! - this.ohmsX * mX[c]!;
      const p = pY[c]! - this.ohmsR * pR[c]! - this.ohmsX * pX[c]!;
      this.#residuals[2 * k] = m / Math.sqrt(this.#variances[2 * k]!);
      this.#residuals[2 * k + 1] = p / Math.sqrt(this.#variances[2 * k + 1]!);
    }
  }

  /** Drops what lies beyond the robust scale; returns that scale, squared. */
  #reject(part: 0 | 1, size: number, looks: number): number {
    for (let k = 0; k < size; k++) this.#sorted[k] = Math.abs(this.#residuals[2 * k + part]!);
    const sorted = this.#sorted.subarray(0, size).sort();
    const median = (sorted[(size - 1) >> 1]! + sorted[size >> 1]!) / 2;
    const square = (looks + size * (1.4826 * median) ** 2) / (looks + size);
    const limit = REJECT * Math.sqrt(square);
    for (let k = 0; k < size; k++) {
      this.#kept[2 * k + part] = Math.abs(this.#residuals[2 * k + part]!) <= limit ? 1 : 0;
    }
    return square;
  }

  /** Variance of the residuals, the background's own figure being worth `looks` of them. */
  #scale(part: 0 | 1, size: number, looks: number): number {
    let sum = looks;
    let count = -1;
    for (let k = 0; k < size; k++) {
      if (this.#kept[2 * k + part] === 0) continue;
      sum += this.#residuals[2 * k + part]! ** 2;
      count++;
    }
    return sum / (looks + Math.max(count, 0));
  }

  /** Covariance and the degrees of freedom behind each figure (Welch–Satterthwaite). */
  #spread(evidence: SupplyEvidence, magnitudeLooks: number, phaseLooks: number): void {
    let rr = 0;
    let rx = 0;
    let xx = 0;
    let keptM = -1;
    let keptP = -1;
    this.steps = 0;
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      const weight = this.#weights[2 * k]!;
      rr += weight * evidence.mR[c]! ** 2;
      rx += weight * evidence.mR[c]! * evidence.mX[c]!;
      xx += weight * evidence.mX[c]! ** 2;
      keptM += this.#kept[2 * k]!;
      keptP += this.#kept[2 * k + 1]!;
      if (this.believed(k)) this.steps += evidence.isStep[c]!;
    }
    const dofM = magnitudeLooks + Math.max(keptM, 0);
    const dofP = phaseLooks + Math.max(keptP, 0);
    const { varianceR: vR, varianceX: vX, covarianceRX: vRX } = this;
    const partR = vR * vR * rr + 2 * vR * vRX * rx + vRX * vRX * xx;
    const partX = vRX * vRX * rr + 2 * vRX * vX * rx + vX * vX * xx;
    this.coverageR = welch(vR, partR, dofM, dofP);
    this.coverageX = welch(vX, partX, dofM, dofP);
    const model = MODEL ** 2 * (this.ohmsR ** 2 + this.ohmsX ** 2);
    this.varianceR += model;
    this.varianceX += model;
  }
}

/** Student's factor of a variance of which `part` has `dof` degrees and the rest `restDof`. */
function welch(variance: number, part: number, dof: number, restDof: number): number {
  const rest = variance - part;
  return studentFactor95((variance * variance) / ((part * part) / dof + (rest * rest) / restDof));
}
