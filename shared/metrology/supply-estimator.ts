import { assert } from '../assert.ts';
import type { Hertz, SampleIndex } from '../units.ts';
import { arcOpenVolts } from './arc-open-volts.ts';
import { BackgroundNoise } from './background-noise.ts';
import { Connection, type ConnectionChange } from './connection.ts';
import { CycleRing } from './cycle-ring.ts';
import { BEGAN, EdgeMarks, ENDED, GAP } from './edge-marks.ts';
import { HotNow } from './hot-now.ts';
import { type LoadPoint, LoadPoints } from './load-points.ts';
import { LoadWander } from './load-wander.ts';
import { OpenLevel } from './open-level.ts';
import { OtherLoad } from './other-load.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';
import type { OtherLoadEvent, SupplyEstimate } from './supply-estimate.ts';
import { PROVISIONAL, SupplyEvidence } from './supply-evidence.ts';
import { SupplyFit } from './supply-fit.ts';
import { type Refusal, refusalOf } from './supply-refusal.ts';
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

/** An arc's begin or end may be told this late: the detector bridges gaps, and doubts rises. */
const LATEST_S = 0.7;
/** Steps below this are the idle machine's fan. */
const LEAST_AMPS = 0.5;
/** Before anything is known the loop may be anything up to this, where no arc strikes any more. */
const UNKNOWN_OHMS = 3;
/** A wire gives its heat away within about ten minutes (common practice, no source). */
const COOLING_S = 600;
/** A step this close before a contact's first edge is still the contact's. */
const OWN_CYCLES = 12;
/** Arcs further back were on a supply that others loaded otherwise. */
const MEMORY_S = 600;

// Room for one solving at a time: none is left half done, and a shop has many pairs.
const fit = new SupplyFit();
const connection = new Connection();

/**
 * E, R and X of the supply behind one pair, from rows and from where arcs began and ended.
 *
 * Every begin and end of an arc is a step (StepMeter), an equation weighted by what the background
 * does by itself (BackgroundNoise), solved robustly (SupplyFit). What goes on inside an arc is no
 * evidence: a regulated machine draws more when the supply falls, and its points lie on −V/I, not
 * on −R. Only fundamentals enter, so own harmonics do not bias. Arc events may come up to 0.7 s
 * late. Bounded: 128 cycles, 36 edges, 256 other-load events; nothing is allocated per row.
 */
export class SupplyEstimator implements HalfCycleSink {
  readonly #pair: number;
  readonly #nominalCycle: number;
  readonly #latest: number;
  readonly #rateHz: Hertz;
  readonly #ring: CycleRing;
  readonly #evidence = new SupplyEvidence();
  readonly #noise: BackgroundNoise;
  readonly #steps: StepMeter;
  readonly #other: OtherLoad;
  readonly #points: LoadPoints;
  readonly #hot: HotNow;
  readonly #wander: LoadWander;
  readonly #level: OpenLevel;
  readonly #marks = new EdgeMarks();
  #inArc = false;
  #ohmsR = 0.5;
  #ohmsX = 0.5;
  #ohmsUnsure = UNKNOWN_OHMS;
  #heat = 0.5;
  /** Scatter of E while the newest arc burned. */
  #arcSd = 0.5;
  /** Held steps from here on are a contact's own doing. */
  #ownSince = Number.POSITIVE_INFINITY;
  #refusal: Refusal | null = null;
  #change: ConnectionChange | null = null;

  constructor(options: SupplyOptions) {
    assert(options.pair >= 0 && options.pair < options.pairs, 'the pair is one of the row');
    this.#pair = options.pair;
    this.#ring = options.ring ?? new CycleRing();
    this.#nominalCycle = options.rateHz / options.nominalHertz;
    this.#latest = LATEST_S * options.rateHz;
    this.#rateHz = options.rateHz;
    this.#noise = new BackgroundNoise(this.#ring, options.rateHz);
    this.#steps = new StepMeter(this.#ring, this.#noise, options.rateHz);
    this.#other = new OtherLoad(this.#ring, this.#noise);
    this.#points = new LoadPoints(this.#ring, options.rateHz);
    this.#hot = new HotNow(this.#ring, this.#noise);
    this.#wander = new LoadWander(this.#ring, this.#noise);
    this.#level = new OpenLevel(this.#ring);
    this.#ohmsR = this.#ohmsX = 0;
    this.#heat = this.#arcSd = 0;
  }

  halfCycle(row: HalfCycleRow): void {
    if (this.#ring.push(row, this.#pair)) this.cycle();
  }

  /** A cycle has joined the ring. */
  cycle(): void {
    this.#noise.cycle(this.#ohmsR, this.#ohmsX, this.#ohmsUnsure);
    this.#other.cycle(this.#ohmsR, this.#ohmsX, this.#ohmsUnsure, this.#inArc);
    if (this.#ohmsUnsure < UNKNOWN_OHMS) this.#level.cycle(this.#ohmsR, this.#ohmsX);
    this.#warm();
    this.#points.cycle();
    this.#wander.cycle(this.#ohmsR, this.#ohmsX);
    const marks = this.#marks;
    while (marks.pending < marks.size && this.#isDue(marks.pending)) {
      this.#measure(marks.pending, this.#evidence.open, true);
      marks.pending++;
    }
    if (!this.#inArc && marks.pending === marks.size) this.#releaseOthers();
  }

  arcBegan(at: SampleIndex): void {
    this.#level.arcBegan(at);
    this.#marks.add(at, BEGAN);
    this.#inArc = true;
    this.#points.arcBegan(at);
    this.#wander.arcBegan(at);
  }

  arcEnded(at: SampleIndex): void {
    this.#marks.add(at, ENDED);
    this.#inArc = false;
    this.#arcSd = this.#level.sd;
    this.#points.arcEnded(at);
    this.#wander.arcEnded();
  }

  /** Samples lost: no window reaches across. Rows go on counting in samples of the stream. */
  skip(_frames: number): void {
    if (this.#ring.size > 0) this.#marks.add(this.#ring.end[this.#ring.slot(0)]!, GAP);
    this.#other.gap();
  }

  /**
   * Null while the evidence is too thin or shows a sign of failure; `refusal` says which. Edges
   * whose windows still fill are looked at as far as they go, and a contact that heats under the
   * arc that burns as if the arc ended now.
   */
  estimate(): SupplyEstimate | null {
    this.#refusal = { code: 'no-step', params: {} };
    this.#change = null;
    if (this.#ring.size === 0) return null;
    const evidence = this.#evidence;
    const { pending, size } = this.#marks;
    const last = Math.min(size, pending + PROVISIONAL - 1);
    for (let mark = pending; mark < last; mark++) {
      this.#measure(mark, evidence.openProvisional, false);
    }
    if (this.#inArc && this.#hot.write(evidence, this.#ohmsR, this.#ohmsX, this.#other.held)) {
      evidence.lendGuess();
    }
    const answer = this.#ask();
    evidence.takeBack();
    return answer;
  }

  /** Why the newest `estimate()` was null. */
  get refusal(): Refusal | null {
    return this.#refusal;
  }

  /** Ohms that changed, as of the newest `estimate()`. */
  get connection(): ConnectionChange | null {
    return this.#change;
  }

  /** Lowest volts measured at each current, of the supply as it is now. */
  get measured(): LoadPoint[] {
    return this.#points.lowest(this.#change?.since ?? Number.NEGATIVE_INFINITY);
  }

  /** Steps of the open-circuit voltage, oldest first; the newest 256. */
  otherLoad(): readonly OtherLoadEvent[] {
    const { events, held } = this.#other;
    const others = [...events, ...held].filter(
      ({ at, duringArc }) => at < this.#ownSince || !duringArc,
    );
    return others.sort((a, b) => a.at - b.at);
  }

  /** The newest `count` that were recorded for good. */
  newestLoads(count: number): readonly OtherLoadEvent[] {
    return this.#other.events.slice(-count);
  }

  /** How many there were in all: what is new since one looked. */
  get otherLoads(): number {
    return this.#other.recorded;
  }

  /** The stream's end: steps that were held back are told. */
  end(): void {
    this.#other.settle();
    this.#other.release(this.#ownSince);
  }

  /** All of the mark's windows have been seen, and no mark within them can still be told. */
  #isDue(mark: number): boolean {
    const seen = this.#ring.end[this.#ring.slot(0)]!;
    const full = this.#marks.at(mark) + (PHASE_AFTER + 0.5) * this.#nominalCycle;
    return seen > full && (mark + 1 < this.#marks.size || seen > full + this.#latest);
  }

  #measure(mark: number, column: number, keep: boolean): void {
    const marks = this.#marks;
    const kind = marks.kind(mark);
    if (kind === GAP) return;
    const at = marks.at(mark);
    const evidence = this.#evidence;
    if (
      !this.#steps.measure(at, kind === BEGAN, marks.from(mark), marks.to(mark), evidence, column)
    )
      return;
    if (evidence.amps[column]! < LEAST_AMPS) return;
    evidence.heat[column] = this.#heat;
    evidence.used[column] = 1;
    if (!keep) {
      evidence.lend();
      return;
    }
    evidence.keep();
    this.#learn();
  }

  /** Once nothing of an arc is open any more: what no contact made was another load. */
  #releaseOthers(): void {
    const { held } = this.#other;
    if (held.length === 0) return;
    const now = this.#ring.end[this.#ring.slot(0)]!;
    // An arc that made the newest of them may still be told.
    const told = this.#latest + PHASE_AFTER * this.#nominalCycle;
    if (now - held[held.length - 1]!.at > told) this.#other.release(this.#ownSince);
  }

  /** Fits all edges, asks whether the resistance changed, and fits what is of the newest state. */
  #solve(): boolean {
    const evidence = this.#evidence;
    const now = this.#ring.end[this.#ring.slot(0)]!;
    const { magnitudeLooks, phaseLooks } = this.#noise;
    const when = { at: now, rateHz: this.#rateHz, heat: this.#heat };
    const looks = { magnitude: magnitudeLooks, phase: phaseLooks };
    const edges = evidence.guessed ? evidence.size - 1 : evidence.size;
    for (let k = 0; k < evidence.size; k++) evidence.used[evidence.column(k)] = k < edges ? 1 : 0;
    if (!fit.solve(evidence, when, looks)) return false;
    connection.look(evidence, fit.ohmsX, magnitudeLooks);
    if (!fit.solve(evidence, when, looks)) return false;
    const wander = connection.change === null ? this.#wander.ohms(fit.ohmsR) : 0;
    if (wander > 0) {
      connection.wanders(evidence, fit.ohmsR, wander, this.#wander.since);
      fit.varianceR += wander * wander;
    }
    return true;
  }

  /** Solves for what the stream itself needs: how much of the voltage own current explains. */
  #learn(): void {
    if (!this.#solve()) return;
    const { change } = connection;
    const since = change?.since ?? connection.unsteadySince ?? Number.POSITIVE_INFINITY;
    this.#ownSince = since - OWN_CYCLES * this.#nominalCycle;
    // One edge alone may yet be a neighbour that came with the arc: the arc's end will say.
    if (change?.edges === 1) return;
    if (change?.kind !== 'wanders') this.#blameOthers();
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
  #blameOthers(): void {
    const evidence = this.#evidence;
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      if (fit.believed(k) || evidence.used[c] === 0 || evidence.blamed[c] === 1) continue;
      const step = fit.unexplained(evidence, k);
      const own = this.#ohmsUnsure * evidence.amps[c]!;
      if (!this.#other.standsOut(step, evidence.mVariance[c]!, own)) continue;
      evidence.blamed[c] = 1;
      const halfWidthVolts = 2 * Math.sqrt(evidence.mVariance[c]!) + own;
      this.#other.hold({ at: evidence.at[c]!, volts: step, halfWidthVolts, duringArc: true });
    }
  }

  #warm(): void {
    const slot = this.#ring.slot(0);
    const seconds = 1 / this.#ring.hertz[slot]!;
    const amps = this.#ring.irms[slot]!;
    this.#heat += seconds * (amps * amps - this.#heat / COOLING_S);
  }

  #ask(): SupplyEstimate | null {
    const evidence = this.#evidence;
    const solved = this.#solve();
    this.#change = solved ? connection.change : null;
    this.#refusal = solved ? refusalOf(fit, evidence, connection) : { code: 'no-step', params: {} };
    if (this.#refusal !== null) return null;
    const halfR = fit.coverageR * Math.sqrt(fit.varianceR);
    const halfX = fit.coverageX * Math.sqrt(fit.varianceX);
    let largest = 0;
    let lag = 0;
    let share = 0;
    let edges = 0;
    for (let k = 0; k < evidence.size; k++) {
      const column = evidence.column(k);
      if (evidence.used[column] === 0) continue;
      largest = Math.max(largest, evidence.amps[column]!);
      lag += evidence.lagRadians[column]!;
      share += evidence.fundamentalShare[column]!;
      edges++;
    }
    return {
      openVolts: this.#level.now(fit.ohmsR, fit.ohmsX),
      openVoltsSd: this.#level.sd,
      ...this.#openInArcs(),
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
      lagRadians: lag / edges,
      fundamentalShare: share / edges,
      at: this.#ring.end[this.#ring.slot(0)]!,
    };
  }

  /** What a forecast stands on. */
  #openInArcs() {
    const now = this.#ring.end[this.#ring.slot(0)]!;
    const open = arcOpenVolts(this.#evidence, now - MEMORY_S * this.#rateHz);
    const level = this.#inArc ? this.#level.sd : this.#arcSd;
    const { rmsRatio } = this.#level;
    return {
      arcOpenVolts: rmsRatio * open.newest,
      arcOpenLowVolts: rmsRatio * open.lowest,
      // The scatter while the arc burned was worked out with ohms that were no longer true.
      arcOpenSd: this.#change === null ? level : open.sd,
    };
  }
}
