import type { Process } from '../protocol/processes.ts';
import { commonPractice } from './limits.ts';

/** A stretch of a set-up's clock, RFC 3339; it runs yet where `to` is null. */
export interface ClockRun {
  from: string;
  to: string | null;
}

/** What a set-up commonly takes, to look at beside the measured time; nothing is judged by it. */
export interface UsualTime {
  minutes: readonly [number, number];
  source: string;
}

const usual: Record<Process, UsualTime | null> = {
  'mig-steel': { minutes: [10, 20], source: commonPractice },
  'mig-aluminium': { minutes: [60, 90], source: commonPractice },
  'mig-braze': null,
};

export const usualSetUp = (process: Process): UsualTime | null => usual[process];

/** A run this long without a pause was perhaps forgotten: asked about, never cut. */
const longRunS = 4 * 3_600;

export interface ClockRead {
  seconds: number;
  running: boolean;
  /** True where one run went on so long that somebody should look at it before it is billed. */
  long: boolean;
}

/** A clock set back in between counts as nothing, never as less. */
export function readClock(runs: readonly ClockRun[], nowMs: number): ClockRead {
  const each = runs.map(({ from, to }) => {
    const end = to === null ? nowMs : Date.parse(to);
    return Math.max(0, (end - Date.parse(from)) / 1_000);
  });
  return {
    seconds: each.reduce((sum, one) => sum + one, 0),
    running: runs.at(-1)?.to === null,
    long: each.some((one) => one > longRunS),
  };
}
