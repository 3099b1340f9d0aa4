import { assert } from '../assert.ts';
import type { Hertz, SampleIndex } from '../units.ts';
import { ArcRipple } from './arc-ripple.ts';
import { BackgroundNoise } from './background-noise.ts';
import { CycleRing } from './cycle-ring.ts';
import { OtherLoad } from './other-load.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';
import type { OtherLoadEvent, SupplyEstimate } from './supply-estimate.ts';
import { PROVISIONAL, SupplyEvidence } from './supply-evidence.ts';
import { SupplyFit } from './supply-fit.ts';
import { PHASE_AFTER, StepMeter } from './supply-steps.ts';

export interface SupplyOptions {
  rateHz: Hertz;
  /** Pairs in a row. */
  pairs: number;
  nominalHertz: 50 | 60;
  /** The pair to watch, from 0. */
  pair: number;
  /** Shared with another meter of the pair; whoever shares it fills it, and tells by `cycle`. */
  ring?: CycleRing;
}

/** Marks remembered: begins, ends and gaps; ten tacks within a second still have theirs. */
const MOST_MARKS = 24;
const GAP = 0;
const BEGAN = 1;
const ENDED = 2;
/** Steps below this are the idle machine's fan. */
const LEAST_AMPS = 0.5;
/** Before anything is known the loop may be anything up to this, where no arc strikes any more. */
const UNKNOWN_OHMS = 3;
/** An estimate says so little beyond this half-width of R that it is refused: 30 % of |Z|, what
 * IEC 61557-3 allows a loop tester (from memory), or 50 mΩ, a volt and a half at 30 A. */
const REFUSE_PART = 0.3;
const REFUSE_OHMS = 0.05;
/** Cycles that say where the open-circuit voltage is now: a second. */
const NOW_CYCLES = 60;
/** A wire gives its heat away within about ten minutes (common practice, no source). */
const COOLING_S = 600;
/** Cycles of idle that say how far from a sine the supply is by itself. */
const IDLE_CYCLES = 6;
/** Memory of how far it moves, in cycles: twenty seconds. */
const DRIFT_CYCLES = 1200;

/**
 * E, R and X of the supply behind one pair, from rows and from where arcs began and ended.
 *
 * Every begin and end of an arc is a step (StepMeter), every arc a regression (ArcRipple); both
 * become equations weighted by what the background does by itself (BackgroundNoise), solved
 * robustly (SupplyFit). Only fundamentals enter, so own harmonics do not bias. Arc events may
 * come up to a second late. Bounded: 128 cycles, 64 pieces of evidence, 256 other-load events;
 * nothing is allocated per row.
 */
export class SupplyEstimator implements HalfCycleSink {
  readonly #pair: number;
  readonly #nominalCycle: number;
  readonly #ring: CycleRing;
  readonly #evidence = new SupplyEvidence();
  readonly #noise: BackgroundNoise;
  readonly #steps: StepMeter;
  readonly #ripple: ArcRipple;
  readonly #other: OtherLoad;
  /** What streams on, from evidence that is kept; and what is asked, with what is still coming. */
  readonly #live: SupplyFit;
  readonly #asked: SupplyFit;
  readonly #markAt = new Float64Array(MOST_MARKS);
  readonly #markKind = new Uint8Array(MOST_MARKS);
  #marks = 0;
  /** Marks before this one have been measured. */
  #pending = 0;
  #inArc = false;
  #ohmsR = 0.5;
  #ohmsX = 0.5;
  #ohmsUnsure = UNKNOWN_OHMS;
  #level = 0.5;
  #levelSquare = 0.5;
  #levelCycles = 0;
  #rmsRatio = 1.5;
  #heat = 0.5;
  #heatAtBegin = 0.5;

  constructor(options: SupplyOptions) {
    assert(options.pair >= 0 && options.pair < options.pairs, 'the pair is one of the row');
    this.#pair = options.pair;
    this.#ring = options.ring ?? new CycleRing();
    this.#nominalCycle = options.rateHz / options.nominalHertz;
    this.#noise = new BackgroundNoise(this.#ring, options.rateHz);
    this.#steps = new StepMeter(this.#ring, this.#noise, options.rateHz);
    this.#ripple = new ArcRipple(this.#ring, this.#noise, options.rateHz);
    this.#other = new OtherLoad(this.#ring, this.#noise);
    this.#live = new SupplyFit(options.rateHz);
    this.#asked = new SupplyFit(options.rateHz);
    this.#ohmsR = this.#ohmsX = this.#level = this.#levelSquare = 0;
    this.#rmsRatio = 1;
    this.#heat = this.#heatAtBegin = 0;
  }

  halfCycle(row: HalfCycleRow): void {
    if (this.#ring.push(row, this.#pair)) this.cycle();
  }

  /** A cycle has joined the ring. */
  cycle(): void {
    this.#noise.cycle(this.#ohmsR, this.#ohmsX, this.#ohmsUnsure);
    this.#other.cycle(this.#ohmsR, this.#ohmsX, this.#ohmsUnsure, this.#inArc);
    if (this.#ohmsUnsure < UNKNOWN_OHMS) this.#followLevel();
    this.#warm();
    if (this.#inArc) this.#ripple.cycle();
    while (this.#pending < this.#marks && this.#isDue(this.#pending)) {
      this.#measure(this.#pending, this.#evidence.open, true);
      this.#pending++;
    }
  }

  arcBegan(at: SampleIndex): void {
    this.#rmsRatio = this.#idleRatio(at);
    this.#mark(at, BEGAN);
    this.#inArc = true;
    this.#heatAtBegin = this.#heat;
    this.#ripple.begin(at);
  }

  arcEnded(at: SampleIndex): void {
    this.#mark(at, ENDED);
    this.#inArc = false;
    const { open } = this.#evidence;
    if (!this.#ripple.finish(at, this.#evidence, open)) return;
    this.#evidence.heat[open] = (this.#heatAtBegin + this.#heat) / 2;
    this.#evidence.keep();
  }

  /** Samples lost: no window reaches across. Rows go on counting in samples of the stream. */
  skip(_frames: number): void {
    if (this.#ring.size > 0) this.#mark(this.#ring.end[this.#ring.slot(0)]!, GAP);
    this.#other.settle();
  }

  /**
   * Null while the evidence is too thin, and the rule is the interval's: R's 95 % half-width
   * above the larger of 30 % of |Z| and 50 mΩ says no more than "some wire".
   */
  estimate(): SupplyEstimate | null {
    if (this.#ring.size === 0) return null;
    const evidence = this.#evidence;
    const last = Math.min(this.#marks, this.#pending + PROVISIONAL);
    for (let mark = this.#pending; mark < last; mark++) {
      this.#measure(mark, evidence.openProvisional, false);
    }
    const answer = this.#ask();
    evidence.takeBack();
    return answer;
  }

  /** Steps of the open-circuit voltage, oldest first; the newest 256. */
  otherLoad(): readonly OtherLoadEvent[] {
    return this.#other.events;
  }

  /** How many there were in all: what is new since one looked. */
  get otherLoads(): number {
    return this.#other.recorded;
  }

  #mark(at: number, kind: number): void {
    if (this.#marks === MOST_MARKS) {
      this.#markAt.copyWithin(0, 1);
      this.#markKind.copyWithin(0, 1);
      this.#marks--;
      this.#pending = Math.max(0, this.#pending - 1);
    }
    this.#markAt[this.#marks] = at;
    this.#markKind[this.#marks++] = kind;
  }

  /** All of the mark's windows have been seen. */
  #isDue(mark: number): boolean {
    const seen = this.#ring.end[this.#ring.slot(0)]!;
    return seen > this.#markAt[mark]! + (PHASE_AFTER + 0.5) * this.#nominalCycle;
  }

  #measure(mark: number, column: number, keep: boolean): void {
    const kind = this.#markKind[mark]!;
    if (kind === GAP) return;
    const from = mark > 0 ? this.#markAt[mark - 1]! : Number.NEGATIVE_INFINITY;
    const to = mark + 1 < this.#marks ? this.#markAt[mark + 1]! : Number.POSITIVE_INFINITY;
    const at = this.#markAt[mark]!;
    const evidence = this.#evidence;
    if (!this.#steps.measure(at, kind === BEGAN, from, to, evidence, column)) return;
    if (evidence.amps[column]! < LEAST_AMPS) return;
    evidence.heat[column] = this.#heat;
    if (!keep) {
      evidence.lend();
      return;
    }
    evidence.keep();
    this.#learn();
  }

  /** Solves for what the stream itself needs: how much of the voltage own current explains. */
  #learn(): void {
    const fit = this.#live;
    const { magnitudeLooks, phaseLooks } = this.#noise;
    const now = this.#ring.end[this.#ring.slot(0)]!;
    if (!fit.solve(this.#evidence, now, this.#heat, magnitudeLooks, phaseLooks)) return;
    this.#blameOthers(fit);
    const z = Math.hypot(fit.ohmsR, fit.ohmsX);
    const half = Math.max(
      fit.coverageR * Math.sqrt(fit.varianceR),
      fit.coverageX * Math.sqrt(fit.varianceX),
    );
    const unsure = 1.5 * half + 0.05 * z;
    if (unsure >= UNKNOWN_OHMS / 2) return;
    this.#ohmsR = fit.ohmsR;
    this.#ohmsX = fit.ohmsX;
    this.#ohmsUnsure = unsure;
  }

  /** A step that the fit does not believe was not the arc's alone. */
  #blameOthers(fit: SupplyFit): void {
    const evidence = this.#evidence;
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      if (fit.believed(k) || evidence.isStep[c] === 0 || evidence.blamed[c] === 1) continue;
      const step = fit.unexplained(evidence, k);
      const own = this.#ohmsUnsure * evidence.amps[c]!;
      if (!this.#other.standsOut(step, evidence.mVariance[c]!, own)) continue;
      evidence.blamed[c] = 1;
      const halfWidth = 2 * Math.sqrt(evidence.mVariance[c]!) + own;
      this.#other.record(evidence.at[c]!, step, halfWidth, true);
    }
  }

  #warm(): void {
    const slot = this.#ring.slot(0);
    const seconds = 1 / this.#ring.hertz[slot]!;
    const amps = this.#ring.irms[slot]!;
    this.#heat += seconds * (amps * amps - this.#heat / COOLING_S);
  }

  /** Mean and scatter of the open-circuit voltage over the last twenty seconds. */
  #followLevel(): void {
    const volts = this.#ring.openVolts(this.#ring.slot(0), this.#ohmsR, this.#ohmsX);
    this.#levelCycles = Math.min(this.#levelCycles + 1, DRIFT_CYCLES);
    const off = volts - this.#level;
    this.#level += off / this.#levelCycles;
    this.#levelSquare += (off * (volts - this.#level) - this.#levelSquare) / this.#levelCycles;
  }

  #ask(): SupplyEstimate | null {
    const fit = this.#asked;
    const evidence = this.#evidence;
    const { magnitudeLooks, phaseLooks } = this.#noise;
    const now = this.#ring.end[this.#ring.slot(0)]!;
    if (!fit.solve(evidence, now, this.#heat, magnitudeLooks, phaseLooks)) return null;
    const halfR = fit.coverageR * Math.sqrt(fit.varianceR);
    const halfX = fit.coverageX * Math.sqrt(fit.varianceX);
    const z = Math.hypot(fit.ohmsR, fit.ohmsX);
    if (!(halfR <= Math.max(REFUSE_PART * z, REFUSE_OHMS)) || fit.steps === 0) return null;
    // A resistance that is surely negative is a regulator at work, or another's load in step.
    if (fit.ohmsR + halfR <= 0) return null;
    let largest = 0;
    let lag = 0;
    let share = 0;
    let steps = 0;
    for (let k = 0; k < evidence.size; k++) {
      const column = evidence.column(k);
      if (evidence.isStep[column] === 0) continue;
      largest = Math.max(largest, evidence.amps[column]!);
      lag += evidence.lagRadians[column]!;
      share += evidence.fundamentalShare[column]!;
      steps++;
    }
    return {
      openVolts: this.#openNow(fit),
      openVoltsSd: Math.sqrt(this.#levelSquare),
      ohmsR: fit.ohmsR,
      ohmsX: fit.ohmsX,
      ohmsR95: [fit.ohmsR - halfR, fit.ohmsR + halfR],
      ohmsX95: [fit.ohmsX - halfX, fit.ohmsX + halfX],
      varianceR: fit.varianceR,
      varianceX: fit.varianceX,
      covarianceRX: fit.covarianceRX,
      coverage: fit.coverageR,
      steps: fit.steps,
      largestStepAmps: largest,
      lagRadians: lag / steps,
      fundamentalShare: share / steps,
      at: now,
    };
  }

  /** True r.m.s. of the open-circuit voltage over the last second. */
  #openNow(fit: SupplyFit): number {
    const ring = this.#ring;
    const count = Math.min(ring.size, NOW_CYCLES);
    let sum = 0;
    for (let age = 0; age < count; age++) {
      sum += ring.openVolts(ring.slot(age), fit.ohmsR, fit.ohmsX);
    }
    return (this.#rmsRatio * sum) / count;
  }

  /** R.m.s. over fundamental of the voltage just before `at`: the supply's own harmonics, since
   * in the arc there are the machine's. */
  #idleRatio(at: number): number {
    const ring = this.#ring;
    let sum = 0;
    let count = 0;
    for (let age = 0; age < ring.size && count < IDLE_CYCLES; age++) {
      const slot = ring.slot(age);
      if (ring.end[slot]! > at) continue;
      sum += ring.urms[slot]! / ring.openVolts(slot, 0, 0);
      count++;
    }
    return count === 0 ? this.#rmsRatio : sum / count;
  }
}
