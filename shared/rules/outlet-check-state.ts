import type { Saying } from '../protocol/judgement.ts';
import type { CheckAbout, CheckResult, CheckStep } from '../protocol/outlet-check.ts';
import type { Seconds, Volts } from '../units.ts';
import type { Setting } from './facts.ts';
import type { BeadEvidence, QuietRun } from './outlet-check-evidence.ts';

/** A check as it stands: plain data, to be kept and sent as it is. */
export interface OutletCheck {
  about: CheckAbout;
  setting: Setting;
  step: CheckStep;
  beganS: Seconds | null;
  atS: Seconds;
  /** Readings of this step. */
  run: QuietRun | null;
  /** When the newest of them came; absent of checks that an older server kept. */
  readAtS?: Seconds;
  noLoad: QuietRun | null;
  idle: QuietRun | null;
  /** The newest bead of this step; one that is enough stays until a better choice is made. */
  bead: BeadEvidence | null;
  first: BeadEvidence | null;
  second: 'with-cord' | 'full-setting' | null;
  note: string | null;
  /** Absent or null: the note has no name, or there is none. */
  noteSaying?: Saying | null;
  result: CheckResult | null;
}

/** With nothing welding, between the machine's terminals; null before a reading. */
export const openVoltsOf = ({ noLoad, idle, run }: OutletCheck): Volts | null =>
  (noLoad ?? idle ?? run)?.volts ?? null;
