import type { Arc } from '../protocol/judgement.ts';
import type { CheckAbout, CheckChoice, CheckWant } from '../protocol/outlet-check.ts';
import type { Seconds } from '../units.ts';
import { leastEvidence } from './evidence.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { unsuitedBy } from './mismatch.ts';
import {
  type BeadEvidence,
  beadOf,
  beadWants,
  idleWants,
  noLoadWants,
  type Reading,
  withReading,
} from './outlet-check-evidence.ts';
import { checkLimits } from './outlet-check-limits.ts';
import { checkResult } from './outlet-check-result.ts';
import { type OutletCheck, openVoltsOf } from './outlet-check-state.ts';
import { type Said, say } from './say.ts';

/** What happens to a check. `atS` counts from any fixed moment and does not run back. */
export type CheckEvent =
  | ({ kind: 'reading'; atS: Seconds } & Reading)
  /** An arc as it was judged; `burning` while it goes on. */
  | { kind: 'arc'; atS: Seconds; arc: Arc; supply: SupplyEvidence; burning: boolean }
  | { kind: 'choice'; atS: Seconds; choice: CheckChoice }
  | { kind: 'time'; atS: Seconds };

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
export function wantsOf({ step, run, noLoad, bead, setting, second }: OutletCheck): CheckWant[] {
  switch (step) {
    case 'no-load':
      return noLoadWants(run, setting);
    case 'idle':
      return idleWants(run, noLoad);
    case 'first-bead':
      return beadWants(bead, setting, leastEvidence['outlet-check'].share);
    case 'second-bead': {
      const least =
        second === 'full-setting' ? checkLimits.fullShare : leastEvidence['outlet-check'].share;
      return beadWants(bead, setting, least);
    }
    case 'judged':
    case 'stopped':
      return [];
  }
}

/** Found before any load: the machine must not be plugged in here, so nothing is to be welded. */
export const isUnsuited = (check: OutletCheck): boolean =>
  unsuitedBy(check.setting, openVoltsOf(check)).length > 0;

export const isEnough = (check: OutletCheck): boolean =>
  wantsOf(check).every(({ enough, needed }) => enough || !needed);

/** What leads on from a step, as soon as the evidence is in. */
function onwardOf(check: OutletCheck): Onward[] {
  const { step, setting, bead, about } = check;
  if (isUnsuited(check)) return [];
  if (step === 'no-load' || step === 'idle') return ['go-on'];
  if (step !== 'first-bead') return [];
  const cords = setting.circuit?.cords ?? [];
  const later = cords.length > 0 && about.cordFrom === 'second-bead';
  const share = bead && beadOf(bead, setting).shareOfFull;
  // A bead that was at full setting already is not asked for again.
  const light = share !== null && share < checkLimits.fullShare;
  return [
    ...(later ? (['with-cord'] as const) : []),
    ...(light ? (['full-setting'] as const) : []),
  ];
}

/** What may be chosen now. */
export function choicesOf(check: OutletCheck): CheckChoice[] {
  const { step, bead } = check;
  if (isOver(check)) return [];
  const burning = bead?.burning === true;
  return [
    ...(isEnough(check) && !burning ? onwardOf(check) : []),
    ...(mayJudge(check) ? (['judge'] as const) : []),
    ...(step === 'no-load' ? [] : (['back'] as const)),
    ...(['again', 'stop'] as const),
  ];
}

/** A bead that has ended; or a voltage that was read and forbids one. */
function mayJudge(check: OutletCheck): boolean {
  if (check.bead !== null) return !check.bead.burning;
  const read = check.noLoad !== null || (check.step === 'no-load' && isEnough(check));
  return read && isUnsuited(check);
}

/** Beads are judged by the watch; between them readings prove nothing more. */
function withQuiet(check: OutletCheck, reading: Reading): OutletCheck {
  if (check.step !== 'no-load' && check.step !== 'idle') return check;
  if (reading.volts.length !== check.setting.pairs) return check;
  const gap = check.atS - (check.readAtS ?? check.atS) > checkLimits.gapS;
  const run = withReading(gap ? null : check.run, reading, check.setting);
  return { ...check, run, readAtS: check.atS };
}

/** An arc before its step was reached closes the steps before: a recording has no choices. */
function withArc(check: OutletCheck, { arc, supply, burning }: BeadEvidence): OutletCheck {
  if (!burning && arc.durationS < checkLimits.tackS) return check;
  // The same bead told twice: the server was stopped between its end and its commit.
  if (arc.startS === check.first?.arc.startS) return check;
  const early = check.step === 'no-load' || check.step === 'idle';
  const at = early ? passedOver(check) : check;
  const next: OutletCheck = { ...at, bead: { arc, supply, burning } };
  return betterBead(at, next) ? next : at;
}

/** A bead that is enough stays until another is enough too, and not much lighter. */
function betterBead(before: OutletCheck, after: OutletCheck): boolean {
  if (before.bead === null || !isEnough(before)) return true;
  if (!isEnough(after)) return false;
  const [was, is] = [before.bead, after.bead!].map((bead) => beadOf(bead, before.setting));
  const same = was!.startS === is!.startS;
  return same || is!.amps >= checkLimits.lighterShare * was!.amps;
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
  if (!choicesOf(check).includes(choice)) {
    const early = onwardOf(check).some((each) => each === choice);
    return { ...check, ...noted(say(early ? 'notYet' : 'noSuchChoice')) };
  }
  switch (choice) {
    case 'stop':
      return stopCheck(check);
    case 'again':
      return { ...check, run: null, bead: null };
    case 'back':
      return stepBack(check);
    case 'judge':
      return { ...check, step: 'judged', result: checkResult(check) };
    case 'go-on':
    case 'with-cord':
    case 'full-setting':
      return onward(check, choice);
  }
}

type Onward = Extract<CheckChoice, 'go-on' | 'with-cord' | 'full-setting'>;

function onward(check: OutletCheck, choice: Onward): OutletCheck {
  const { run, bead } = check;
  if (check.step === 'no-load') return { ...check, step: 'idle', noLoad: run, run: null };
  if (check.step === 'idle') return { ...check, step: 'first-bead', idle: run, run: null };
  const second = choice === 'with-cord' ? 'with-cord' : 'full-setting';
  return { ...check, step: 'second-bead', first: bead, bead: null, second };
}

/** The step before, to be taken anew; the first bead stands until another is welded. */
function stepBack(check: OutletCheck): OutletCheck {
  const anew = { ...check, run: null, bead: null };
  if (check.step === 'second-bead')
    return { ...anew, step: 'first-bead', bead: check.first, first: null, second: null };
  if (check.step === 'first-bead') return { ...anew, step: 'idle', idle: null };
  return { ...anew, step: 'no-load', noLoad: null };
}
