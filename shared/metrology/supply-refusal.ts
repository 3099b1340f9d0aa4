import type { Connection } from './connection.ts';
import type { SupplyEvidence } from './supply-evidence.ts';
import type { SupplyFit } from './supply-fit.ts';

/**
 * Why no E, R and X is told, though arcs may have burned. `no-step`: no arc's edge had both sides.
 * `wide`: the interval says no more than "some wire". `frequency-moves`: the phase runs on with the
 * load, so two gaps between the windows give two reactances: a governor. `negative-resistance`,
 * `negative-reactance`, `large-reactance`, `near-load`: no circuit is that. `edges-disagree`: the
 * ends of arcs show fewer ohms than their starts. `misses`: the edges foretell each other badly.
 * `generator`: an engine set is no constant source.
 */
export type RefusalCode =
  | 'no-step'
  | 'wide'
  | 'frequency-moves'
  | 'negative-resistance'
  | 'negative-reactance'
  | 'large-reactance'
  | 'near-load'
  | 'edges-disagree'
  | 'misses'
  | 'generator';

export interface Refusal {
  code: RefusalCode;
  /** Figures that a sentence needs: ohms, halfOhms, hertz, misses, edges, by the code. */
  params: Readonly<Record<string, number>>;
}

/** An estimate says so little beyond this half-width of R that it is refused: 30 % of |Z|, what
 * IEC 61557-3 allows a loop tester (from memory), or 50 mΩ, a volt and a half at 30 A. */
const REFUSE_PART = 0.3;
const REFUSE_OHMS = 0.05;
/** X under this part of R below nothing is none, and over this many R no branch circuit's … */
const NEGATIVE_PART = 0.2;
const LARGE_PART = 2;
/** … unless both are next to nothing: a stout transformer is mostly reactance. */
const LARGE_OHMS = 0.1;
/** Ohms near those of the load itself are the load's own answer: this part of V/I. */
const NEAR_LOAD = 0.5;
/** Where the sides' slopes differ, the step of the phase is off by the slopes' difference over this
 * many cycles, the windows' mean distance from the edge. */
const SLIP_CYCLES = 7;
/** Such a slip stands out by so many deviations, and is told if it moves X by this part of R. */
const SLIP_OUT = 5;
const SLIP_PART = 0.2;
/** More misses than this part of the edges, and than one: the interval is too narrow. */
const MISS_PART = 0.2;

/** Signs of failure, the plainest first; null where the fit stands. */
export function refusalOf(
  fit: SupplyFit,
  evidence: SupplyEvidence,
  connection: Connection,
): Refusal | null {
  const { ohmsR, ohmsX, steps, misses } = fit;
  const halfR = fit.coverageR * Math.sqrt(fit.varianceR);
  const halfX = fit.coverageX * Math.sqrt(fit.varianceX);
  const refuse = (code: RefusalCode, params: Refusal['params']): Refusal => ({ code, params });
  if (steps === 0) return refuse('no-step', {});
  const slip = slipOhms(evidence);
  if (Math.abs(slip) > SLIP_PART * Math.abs(ohmsR)) {
    return refuse('frequency-moves', { ohmsX: slip });
  }
  // A resistance that is surely negative is a regulator at work, or another's load in step.
  if (ohmsR <= 0 || ohmsR + halfR <= 0) return refuse('negative-resistance', { ohms: ohmsR });
  if (!(halfR <= Math.max(REFUSE_PART * Math.hypot(ohmsR, ohmsX), REFUSE_OHMS))) {
    return refuse('wide', { ohms: ohmsR, halfOhms: halfR });
  }
  if (ohmsX + halfX < -NEGATIVE_PART * ohmsR) return refuse('negative-reactance', { ohms: ohmsX });
  if (ohmsX - halfX > Math.max(LARGE_PART * (ohmsR + halfR), LARGE_OHMS)) {
    return refuse('large-reactance', { ohms: ohmsX, ohmsR });
  }
  if (ohmsR > NEAR_LOAD * loadOhms(evidence)) return refuse('near-load', { ohms: ohmsR });
  if (connection.disagree) return refuse('edges-disagree', { ohms: ohmsR });
  if (misses > Math.max(1, MISS_PART * (steps + misses))) {
    return refuse('misses', { misses, edges: steps + misses });
  }
  return null;
}

/** By how many ohms of X the source's own frequency moves with the load; 0 if not surely. */
function slipOhms(evidence: SupplyEvidence): number {
  let sum = 0;
  let weights = 0;
  let squares = 0;
  let count = 0;
  let amps = 0;
  for (let k = 0; k < evidence.size; k++) {
    const c = evidence.column(k);
    const weight = 1 / evidence.slipVariance[c]!;
    sum += weight * evidence.slip[c]!;
    weights += weight;
    squares += weight * evidence.slip[c]! ** 2;
    amps += evidence.amps[c]!;
    count++;
  }
  const mean = sum / weights;
  const scatter = Math.max(0, squares - mean * sum) / Math.max(1, count - 1);
  const sd = Math.sqrt(Math.max(1, scatter) / weights);
  return Math.abs(mean) > SLIP_OUT * sd ? (SLIP_CYCLES * mean * count) / amps : 0;
}

/** V/I of the lightest arc. */
function loadOhms(evidence: SupplyEvidence): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < evidence.size; k++) {
    const c = evidence.column(k);
    if (evidence.used[c] === 1) least = Math.min(least, evidence.idleVolts[c]! / evidence.amps[c]!);
  }
  return least;
}
