import type { Cord } from './circuit.ts';
import type { Finding, Saying, Verdict } from './judgement.ts';
import type { Remedy } from './remedy.ts';

/** Where an outlet check stands. `judged` and `stopped` are ends. */
export type CheckStep = 'no-load' | 'idle' | 'first-bead' | 'second-bead' | 'judged' | 'stopped';

/** What the person at the outlet may choose. */
export type CheckChoice =
  | 'go-on'
  | 'again'
  | 'back'
  | 'with-cord'
  | 'full-setting'
  | 'judge'
  | 'stop';

/** One thing that a step wants to have seen. */
export interface CheckWant {
  id:
    | ('alive' | 'nothing-draws' | 'steady' | 'machine-on')
    | ('long' | 'heavy' | 'whole' | 'estimated' | 'quiet');
  enough: boolean;
  /** What was seen, or what is missing yet and why. */
  says: string;
  saying: Saying;
  /** What to do about it; null where it is enough, or another want says it. */
  doNow: string | null;
  /** False where it only advises: the check may go on without it. */
  needed: boolean;
}

/** What to show at this moment. */
export interface CheckTelling {
  step: CheckStep;
  /** The one thing to do now. */
  doNow: string;
  wants: CheckWant[];
  /** True when all that is needed has been seen. */
  enough: boolean;
  /** What may be chosen now. */
  choices: CheckChoice[];
  /** By the bead so far; null before one. */
  verdict: Verdict | null;
  /** What deserves a warning already: the wrong class of supply. */
  warnings: string[];
  /** One a warning. */
  warningSayings: Saying[];
  /** Why the last choice was not taken, or what was skipped; null when there is nothing. */
  note: string | null;
  /** Null also for a note that has no name. */
  noteSaying: Saying | null;
}

/** What a check is about, said by the person when it begins. */
export interface CheckAbout {
  /** RFC 3339, UTC. */
  date: string;
  person: string;
  /** Where the vehicle stands. */
  place: string;
  /** Whether the cord is in use at the first bead already, or is to come with the second. */
  cordFrom: 'first-bead' | 'second-bead';
  /** Name of the recording that it is made from; absent or null: live. */
  recording?: string | null;
  /** Numbers of the stored circuit and plate; absent of recordings and of older checks. */
  of?: { circuit: number; plate: number };
}

export interface CheckBead {
  startS: number;
  endS: number;
  amps: number;
  /** Lowest 200 ms at the sensor, between the machine's terminals. */
  leastVolts: number;
  /** Part of the plate's full current; null without a plate. */
  shareOfFull: number | null;
  verdict: Verdict;
  /** Null where there was no cord to be had; absent of older results. */
  withCord?: boolean | null;
}

/** Kept with the outlet until it goes stale. */
export interface CheckResult {
  schema: 'stiffline.outlet-check/1';
  date: string;
  person: string;
  place: string;
  /** Name of the recording that it was made from; absent or null: live. */
  recording?: string | null;
  machine: string | null;
  circuit: string | null;
  cords: Cord[];
  /** `unstated`: nobody said, and the voltages are those at the sensor. */
  sensorAt: 'outlet' | 'machine' | 'unstated';
  /** Between the machine's terminals; null where the step was passed over. */
  noLoadVolts: number | null;
  idleVolts: number | null;
  beads: CheckBead[];
  /** Why the second bead was welded; null where there was none. */
  second: 'with-cord' | 'full-setting' | null;
  /** As circuits of a plan take it; null where it was not proven. */
  supply: { openVolts: number; ohmsR: number; ohmsX: number } | null;
  atFullLoad: { volts: number; volts95: [number, number] } | null;
  verdict: Verdict;
  findings: Finding[];
  remedies: Remedy[];
  cautions: string[];
  /** Where it is unproven: what would prove it, most needed first; absent of older results. */
  toProve?: string[];
}

/** What a kept result is held against before a heavy weld. */
export interface CheckNow {
  /** RFC 3339, UTC. */
  date: string;
  place: string;
  machine: string | null;
  circuit: string | null;
  cords: readonly Cord[];
}

export interface CheckStaleness {
  stale: boolean;
  /** Every reason, in plain words; empty where the result still stands. */
  why: string[];
  /** One a reason. */
  sayings: Saying[];
}
