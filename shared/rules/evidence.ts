import type { Amperes, Fraction, Seconds } from '../units.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { commonPractice, limits } from './limits.ts';

/** The least that must have been seen before a rule may say more than `unproven`. */
export interface LeastEvidence {
  /** Part of I1max that the load reached, on each loop that the machine hangs between. */
  readonly share: Fraction;
  /** Time at such a load, arcs added up. */
  readonly seconds: Seconds;
  /** Steps of current that the supply's estimate stands on. */
  readonly steps: number;
  /** Samples of an arc that may be lost. */
  readonly lostShare: Fraction;
  readonly reason: string;
  readonly source: string;
}

const lostShare = limits.lostShare.value;
const anyLoad = { share: 0, steps: 0, lostShare, source: commonPractice };

/**
 * Of every required rule, in one place. Rules that ask about the wires alone (voltage-class,
 * phases) need no load; other-load needs an estimate, for what its reader calls a load it weighs
 * by it.
 */
export const leastEvidence = {
  'plate-voltage': {
    ...anyLoad,
    seconds: 0,
    reason: 'it says what this arc had, however short: of one under 200 ms, all of it',
  },
  'strike-voltage': {
    ...anyLoad,
    seconds: 0,
    reason: 'the start must have been seen: idle before it, and its first 200 ms whole',
  },
  'full-load': {
    share: limits.provenShare.value,
    seconds: 1,
    steps: 2,
    lostShare,
    reason:
      'a quarter of I1max: brazing thin sheet takes no more, and a forecast of four times what ' +
      'was seen has an interval that says so; a second, since a contact that heats shows by ' +
      'then; two steps, one up and one down, since a supply that drifts moves them apart',
    source: commonPractice,
  },
  'outlet-check': {
    share: limits.provenShare.value,
    seconds: 2,
    steps: 2,
    lostShare,
    reason: 'as full-load; a bead under two seconds ends before the machine has settled',
    source: commonPractice,
  },
  'outlet-check-at-full-setting': {
    share: 0.8,
    seconds: 2,
    steps: 2,
    lostShare,
    reason:
      'a machine at full setting draws what its plate says, less what the arc happens to take',
    source: commonPractice,
  },
} as const satisfies Record<string, LeastEvidence>;

/** What was seen of the machine's load, one entry a loop. */
export interface LoadSeen {
  share: Fraction;
  seconds: Seconds;
  steps: number;
}

/** Least arc that counts as time at load: one that fills a window of 200 ms. */
export const leastArcSeconds: Seconds = 0.2;

/** What is lacking: `loops` of them were measured where the machine needs more, or a load. */
export type Lack =
  | { of: 'loops'; measured: number; needed: number }
  | { of: 'load'; share: Fraction; seconds: Seconds; steps: number };

/**
 * What a rule lacks before it may prove anything, null where nothing is. Every loop counts, and the
 * worst of them.
 */
export function lackOf(
  least: LeastEvidence,
  seen: readonly LoadSeen[],
  neededLoops: number,
): Lack | null {
  if (seen.length < neededLoops) return { of: 'loops', measured: seen.length, needed: neededLoops };
  const worst = (pick: (each: LoadSeen) => number) => Math.min(...seen.map(pick));
  const share = worst((each) => each.share);
  const seconds = worst((each) => each.seconds);
  const steps = worst((each) => each.steps);
  const enough = share >= least.share && seconds >= least.seconds && steps >= least.steps;
  return enough ? null : { of: 'load', share, seconds, steps };
}

/** Seconds of an arc that count as load of one loop: none of a short arc, or of a light one. */
export function secondsAtLoad(
  { rated, ampsPerLine }: Pick<Setting, 'rated' | 'ampsPerLine'>,
  arc: { startS: Seconds; endS: Seconds; lostFraction: Fraction },
  loopAmps: Amperes,
): Seconds {
  const durationS = arc.endS - arc.startS;
  if (rated === null || durationS < leastArcSeconds) return 0;
  const share = loopAmps / ampsPerLine / rated.I1max;
  return share < leastEvidence['full-load'].share ? 0 : durationS * (1 - arc.lostFraction);
}

/** Loops that a machine of the plate hangs between: a three-phase one between all three lines. */
export const loopsNeeded = ({ plate }: Pick<Setting, 'plate'>): number =>
  plate?.phases === 3 ? 3 : 1;

/** What was seen of each loop's load. A described supply was worked out: it lacks nothing. */
export function loadSeen(
  { rated, ampsPerLine }: Pick<Setting, 'rated' | 'ampsPerLine'>,
  { pairs, loaded }: SupplyEvidence,
): LoadSeen[] {
  return pairs.map((view, at) => {
    if (view === null || rated === null) return { share: 0, seconds: 0, steps: 0 };
    if (view.largestStepAmps === null)
      return { share: 1, seconds: Number.POSITIVE_INFINITY, steps: Number.POSITIVE_INFINITY };
    return {
      share: view.largestStepAmps / view.fundamentalShare / ampsPerLine / rated.I1max,
      seconds: loaded?.[at] ?? 0,
      steps: view.steps ?? 0,
    };
  });
}
