import type { CycleRing } from './cycle-ring.ts';

/** Cycles between the two readings whose differences tell the slow part of the background. */
const LONG_LAG = 8;
/** A difference counts as no more than this many standard deviations: loads switch, and they
 * are events, not background. */
const CLIP = 3.5;
/** Memory, in differences (half a minute), so that the evening's background is the evening's. */
const MEMORY = 2000;
/** Under a load a contact of its own may wander, and that is no background: an idle machine's. */
const IDLE_AMPS = 2;
/** What is assumed before anything is seen, as strong as two independent looks: scatter of
 * 0.025 % from cycle to cycle, over eight 0.1 % of the magnitude and 0.075 % across it (common
 * practice, no source). */
const PRIOR_LOOKS = 2;
const PRIOR_SHORT = 0.00025;
const PRIOR_LONG = 0.001;
const PRIOR_LONG_PHASE = 0.00075;
/** More looks than this would let the quiet minutes outvote what the steps themselves scatter. With
 * five and fewer, of two edges of which a neighbour spoilt one the interval still holds both. */
const MOST_LOOKS = 4;

/** Running mean square of a difference, clipped, with a memory. */
class MeanSquare {
  value = 0.5;
  #count = 0.5;

  begin(value: number, count: number): void {
    this.value = value;
    this.#count = count;
  }

  add(difference: number): void {
    const square = Math.min(difference * difference, CLIP * CLIP * this.value);
    this.#count = Math.min(this.#count + 1, MEMORY);
    this.value += (square - this.value) / this.#count;
  }

  get count(): number {
    return this.#count;
  }
}

/**
 * How the open-circuit voltage moves by itself, as white scatter plus a random walk, for its
 * magnitude and for its phase (both in volts). Learnt from differences at a lag of one cycle and
 * of eight, where own current stood still; first differences for the magnitude, second ones for
 * the phase, since the frequency is not exactly known. It foretells the variance of any weighted
 * sum of readings, so a step whose windows are short still knows its spread.
 */
export class BackgroundNoise {
  readonly #ring: CycleRing;
  readonly #mShort = new MeanSquare();
  readonly #mLong = new MeanSquare();
  readonly #pShort = new MeanSquare();
  readonly #pLong = new MeanSquare();
  readonly #radiansPerSampleHertz: number;
  #begun = false;

  constructor(ring: CycleRing, rateHz: number) {
    this.#ring = ring;
    this.#radiansPerSampleHertz = (2 * Math.PI) / rateHz;
  }

  /** Takes the newest cycle; `ohmsUnsure` is how wrong `ohmsR + j·ohmsX` may be. */
  cycle(ohmsR: number, ohmsX: number, ohmsUnsure: number): void {
    const ring = this.#ring;
    const now = ring.slot(0);
    const volts = ring.openVolts(now, ohmsR, ohmsX);
    if (!this.#begun) this.#begin(volts);
    if (ring.size > 2) this.#look(1, volts, ohmsR, ohmsX, ohmsUnsure);
    if (ring.size > 2 * LONG_LAG) this.#look(LONG_LAG, volts, ohmsR, ohmsX, ohmsUnsure);
    else if (ring.size > LONG_LAG) this.#lookOnce(volts, ohmsR, ohmsX, ohmsUnsure);
  }

  #begin(volts: number): void {
    this.#begun = true;
    // A stream may begin on a dead supply: something must be left to clip at.
    const level = Math.max(volts, 1);
    const short = (PRIOR_SHORT * level) ** 2;
    const long = (PRIOR_LONG * level) ** 2;
    this.#mShort.begin(2 * short, PRIOR_LOOKS);
    this.#mLong.begin(long, PRIOR_LOOKS * LONG_LAG);
    this.#pShort.begin(6 * short, PRIOR_LOOKS);
    const phase = (PRIOR_LONG_PHASE * level) ** 2;
    this.#pLong.begin(2 * phase, PRIOR_LOOKS * 2 * LONG_LAG);
  }

  /** The magnitude at the long lag, where the ring is still too short for a second difference. */
  #lookOnce(volts: number, ohmsR: number, ohmsX: number, ohmsUnsure: number): void {
    const now = this.#ring.slot(0);
    const then = this.#ring.slot(LONG_LAG);
    if (!this.#still(now, then, LONG_LAG, ohmsUnsure, this.#mLong.value)) return;
    this.#mLong.add(volts - this.#ring.openVolts(then, ohmsR, ohmsX));
  }

  #look(lag: number, volts: number, ohmsR: number, ohmsX: number, ohmsUnsure: number): void {
    const ring = this.#ring;
    const now = ring.slot(0);
    const then = ring.slot(lag);
    const magnitude = lag === 1 ? this.#mShort : this.#mLong;
    if (!this.#still(now, then, lag, ohmsUnsure, magnitude.value)) return;
    magnitude.add(volts - ring.openVolts(then, ohmsR, ohmsX));
    const before = ring.slot(2 * lag);
    const phase = lag === 1 ? this.#pShort : this.#pLong;
    if (!this.#still(then, before, lag, ohmsUnsure, phase.value)) return;
    phase.add(volts * this.#bend(now, then, before, ohmsR, ohmsX));
  }

  /** Neighbours in time, and own current too steady to have moved the voltage visibly. */
  #still(now: number, then: number, lag: number, ohmsUnsure: number, square: number): boolean {
    const ring = this.#ring;
    const cycle = ring.end[now]! - ring.start[now]!;
    if (ring.start[now]! - ring.start[then]! > (lag + 0.5) * cycle) return false;
    if (Math.max(ring.irms[now]!, ring.irms[then]!) > IDLE_AMPS) return false;
    const change = ring.currentChange(now, then);
    return change <= 0.03 || change * ohmsUnsure <= 0.3 * Math.sqrt(square);
  }

  /** Second difference of the open-circuit voltage's phase, rad; free of a steady frequency. */
  #bend(now: number, then: number, before: number, ohmsR: number, ohmsX: number): number {
    const { centre, hertz } = this.#ring;
    const nowRe = this.#re(now, ohmsR, ohmsX);
    const nowIm = this.#im(now, ohmsR, ohmsX);
    const thenRe = this.#re(then, ohmsR, ohmsX);
    const thenIm = this.#im(then, ohmsR, ohmsX);
    const beforeRe = this.#re(before, ohmsR, ohmsX);
    const beforeIm = this.#im(before, ohmsR, ohmsX);
    // The angle of (now · conj then) · conj (then · conj before).
    const lateRe = nowRe * thenRe + nowIm * thenIm;
    const lateIm = nowIm * thenRe - nowRe * thenIm;
    const soonRe = thenRe * beforeRe + thenIm * beforeIm;
    const soonIm = thenIm * beforeRe - thenRe * beforeIm;
    const angle = Math.atan2(lateIm * soonRe - lateRe * soonIm, lateRe * soonRe + lateIm * soonIm);
    const uneven = centre[now]! - 2 * centre[then]! + centre[before]!;
    const bend = angle - this.#radiansPerSampleHertz * hertz[then]! * uneven;
    return bend - 2 * Math.PI * Math.round(bend / (2 * Math.PI));
  }

  #re(slot: number, ohmsR: number, ohmsX: number): number {
    const { uRe, iRe, iIm } = this.#ring;
    return uRe[slot]! + ohmsR * iRe[slot]! - ohmsX * iIm[slot]!;
  }

  #im(slot: number, ohmsR: number, ohmsX: number): number {
    const { uIm, iRe, iIm } = this.#ring;
    return uIm[slot]! + ohmsR * iIm[slot]! + ohmsX * iRe[slot]!;
  }

  /** Independent looks behind the figures: degrees of freedom, in small change. */
  get magnitudeLooks(): number {
    return Math.min(this.#mLong.count / LONG_LAG, MOST_LOOKS);
  }

  get phaseLooks(): number {
    return Math.min(this.#pLong.count / (2 * LONG_LAG), MOST_LOOKS);
  }

  /**
   * Variance of Σ weight·magnitude over readings at `cycles` (descending, in cycles), V².
   * The weights must sum to nothing.
   */
  magnitudeVariance(weights: Float64Array, cycles: Float64Array, count: number): number {
    const walk = Math.max(0, (this.#mLong.value - this.#mShort.value) / (LONG_LAG - 1));
    const white = Math.max(0, this.#mShort.value - walk) / 2;
    return varianceOf(weights, cycles, count, white, walk);
  }

  /** The same for the phase, as volts across the voltage. */
  phaseVariance(weights: Float64Array, cycles: Float64Array, count: number): number {
    const walk = Math.max(0, (this.#pLong.value - this.#pShort.value) / (2 * (LONG_LAG - 1)));
    const white = Math.max(0, this.#pShort.value - 2 * walk) / 6;
    return varianceOf(weights, cycles, count, white, walk);
  }
}

function varianceOf(
  weights: Float64Array,
  cycles: Float64Array,
  count: number,
  white: number,
  walk: number,
): number {
  let squares = 0;
  let walked = 0;
  let later = 0;
  for (let k = 0; k < count; k++) {
    squares += weights[k]! * weights[k]!;
    // Every weight of a later reading carries the walk's step between this one and the last.
    if (k > 0) walked += later * later * (cycles[k - 1]! - cycles[k]!);
    later += weights[k]!;
  }
  return white * squares + walk * walked;
}
