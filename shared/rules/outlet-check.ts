import type { Arc, Saying } from '../protocol/judgement.ts';
import type {
  CheckAbout,
  CheckChoice,
  CheckResult,
  CheckStep,
  CheckWant,
} from '../protocol/outlet-check.ts';
import type { Seconds } from '../units.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { limits } from './limits.ts';
import {
  type BeadEvidence,
  beadWants,
  idleWants,
  noLoadWants,
  type QuietRun,
  type Reading,
  withReading,
} from './outlet-check-evidence.ts';
import { checkLimits } from './outlet-check-limits.ts';
import { checkResult } from './outlet-check-result.ts';
import { type Said, say, sayAll } from './say.ts';

/** What happens to a check. `atS` counts from any fixed moment and does not run back. */
export type CheckEvent =
  | ({ kind: 'reading'; atS: Seconds } & Reading)
  /** An arc as it was judged; `burning` while it goes on. */
  | { kind: 'arc'; atS: Seconds; arc: Arc; supply: SupplyEvidence; burning: boolean }
  | { kind: 'choice'; atS: Seconds; choice: CheckChoice }
  | { kind: 'time'; atS: Seconds };

/** A check as it stands: plain data, to be kept and sent as it is. */
export interface OutletCheck {
  about: CheckAbout;
  setting: Setting;
  step: CheckStep;
  beganS: Seconds | null;
  atS: Seconds;
  /** Readings of this step. */
  run: QuietRun | null;
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

export const beginCheck = (about: CheckAbout, setting: Setting): OutletCheck => ({
  about,
  setting,
  step: 'no-load',
  beganS: null,
  atS: 0,
  run: null,
  noLoad: null,
  idle: null,
  bead: null,
  first: null,
  second: null,
  note: null,
  result: null,
});

export const isOver = ({ step }: OutletCheck): boolean => step === 'judged' || step === 'stopped';

/**
 * A check taken up after a time in which nothing was seen: steps that were done stay done, and a
 * bead that was whole counts; readings of the step and a bead that burned are taken anew.
 */
export function resumeCheck(check: OutletCheck): OutletCheck {
  if (isOver(check)) return check;
  const cut = check.bead?.burning === true;
  const again =
    check.step === 'no-load' || check.step === 'idle'
      ? 'startedAnewSteady'
      : cut
        ? 'startedAnewBead'
        : 'startedAnew';
  return { ...check, run: null, bead: cut ? null : check.bead, ...noted(say(again)) };
}

const noted = (of: Said | null): Pick<OutletCheck, 'note' | 'noteSaying'> => ({
  note: of?.says ?? null,
  noteSaying: of?.saying ?? null,
});

/** Ended before it was judged. */
export const stopCheck = (check: OutletCheck, why: Said = say('stopped')): OutletCheck => ({
  ...check,
  step: 'stopped',
  ...noted(why),
});

/** The check after an event. What comes after its end changes nothing. */
export function nextCheck(check: OutletCheck, event: CheckEvent): OutletCheck {
  if (isOver(check)) return check;
  const beganS = check.beganS ?? event.atS;
  const now: OutletCheck = { ...check, beganS, atS: Math.max(check.atS, event.atS) };
  if (now.atS - beganS > checkLimits.lastsS) return stopCheck(now, say('tookTooLong'));
  switch (event.kind) {
    case 'time':
      return now;
    case 'reading':
      return withQuiet(now, event);
    case 'arc':
      return withArc(now, event);
    case 'choice':
      return chosen({ ...now, ...noted(null) }, event.choice);
  }
}

/** What this step wants, and how far it got. */
export function wantsOf({ step, run, bead, setting, second }: OutletCheck): CheckWant[] {
  switch (step) {
    case 'no-load':
      return noLoadWants(run);
    case 'idle':
      return idleWants(run);
    case 'first-bead':
      return beadWants(bead, setting, limits.provenShare.value);
    case 'second-bead': {
      const least = second === 'full-setting' ? checkLimits.fullShare : limits.provenShare.value;
      return beadWants(bead, setting, least);
    }
    case 'judged':
    case 'stopped':
      return [];
  }
}

export const isEnough = (check: OutletCheck): boolean =>
  wantsOf(check).every(({ enough, needed }) => enough || !needed);

/** What may be chosen at a step; whether it is taken hangs on the evidence. */
export function choicesOf({ step, setting, bead, about }: OutletCheck): CheckChoice[] {
  const judge: CheckChoice[] = bead !== null && !bead.burning ? ['judge'] : [];
  switch (step) {
    case 'no-load':
    case 'idle':
      return ['go-on', 'again', 'stop'];
    case 'first-bead': {
      const later = (setting.circuit?.cords ?? []).length > 0 && about.cordFrom === 'second-bead';
      const cord: CheckChoice[] = later ? ['with-cord'] : [];
      return [...cord, 'full-setting', ...judge, 'again', 'stop'];
    }
    case 'second-bead':
      return [...judge, 'again', 'stop'];
    case 'judged':
    case 'stopped':
      return [];
  }
}

/** Beads are judged by the watch; between them readings prove nothing more. */
function withQuiet(check: OutletCheck, reading: Reading): OutletCheck {
  if (check.step !== 'no-load' && check.step !== 'idle') return check;
  if (reading.volts.length !== check.setting.pairs) return check;
  return { ...check, run: withReading(check.run, reading, check.setting.perPair) };
}

/** An arc before its step was reached closes the steps before: a recording has no choices. */
function withArc(check: OutletCheck, { arc, supply, burning }: BeadEvidence): OutletCheck {
  if (!burning && arc.durationS < checkLimits.tackS) return check;
  // The same bead told twice: the server was stopped between its end and its commit.
  if (arc.startS === check.first?.arc.startS) return check;
  const early = check.step === 'no-load' || check.step === 'idle';
  const at = early ? passedOver(check) : check;
  const next: OutletCheck = { ...at, bead: { arc, supply, burning } };
  // A light bead after a good one takes nothing away from it.
  return at.bead !== null && isEnough(at) && !isEnough(next) ? at : next;
}

function passedOver(check: OutletCheck): OutletCheck {
  const enough = isEnough(check) ? check.run : null;
  const noLoad = check.step === 'no-load' ? enough : check.noLoad;
  const idle = check.step === 'idle' ? enough : null;
  const missing = { empty: noLoad === null, idle: idle === null };
  const note = missing.empty || missing.idle ? say('arcCameFirst', missing) : null;
  return { ...check, step: 'first-bead', noLoad, idle, run: null, ...noted(note) };
}

function chosen(check: OutletCheck, choice: CheckChoice): OutletCheck {
  if (!choicesOf(check).includes(choice)) return { ...check, ...noted(say('noSuchChoice')) };
  switch (choice) {
    case 'stop':
      return stopCheck(check);
    case 'again':
      return { ...check, run: null, bead: null };
    case 'judge':
      return { ...check, step: 'judged', result: checkResult(check) };
    case 'go-on':
    case 'with-cord':
    case 'full-setting':
      return isEnough(check) ? onward(check, choice) : { ...check, ...noted(missingOf(check)) };
  }
}

function onward(check: OutletCheck, choice: 'go-on' | 'with-cord' | 'full-setting'): OutletCheck {
  const { run, bead } = check;
  if (check.step === 'no-load') return { ...check, step: 'idle', noLoad: run, run: null };
  if (check.step === 'idle') return { ...check, step: 'first-bead', idle: run, run: null };
  const second = choice === 'with-cord' ? 'with-cord' : 'full-setting';
  return { ...check, step: 'second-bead', first: bead, bead: null, second };
}

function missingOf(check: OutletCheck): Said {
  const [first] = wantsOf(check).filter(({ enough, needed }) => needed && !enough);
  return first ? sayAll(say('notYet'), first) : say('notYet');
}
