import type { CheckTelling } from '../protocol/outlet-check.ts';
import { mismatches } from './mismatch.ts';
import { choicesOf, isEnough, isOver, isUnsuited, wantsOf } from './outlet-check.ts';
import { atMachine } from './outlet-check-evidence.ts';
import { type OutletCheck, openVoltsOf } from './outlet-check-state.ts';
import { type Said, saidBy, say } from './say.ts';

/** What to show and to do at this moment. */
export function tellCheck(check: OutletCheck): CheckTelling {
  const wants = wantsOf(check);
  const enough = isEnough(check);
  const begun = check.run !== null || check.bead !== null;
  const missing = wants.find((want) => want.needed && !want.enough);
  const warned = warnings(check);
  return {
    step: check.step,
    doNow: doNow(check, enough, begun ? (missing?.doNow ?? null) : null),
    wants,
    enough,
    choices: choicesOf(check),
    verdict: verdictSoFar(check),
    warnings: warned.map(({ says }) => says),
    warningSayings: warned.map(({ saying }) => saying),
    note: check.note,
    noteSaying: check.noteSaying ?? null,
  };
}

function verdictSoFar(check: OutletCheck): CheckTelling['verdict'] {
  if (!isOver(check) && isUnsuited(check)) return 'unsuited';
  return check.result?.verdict ?? check.bead?.arc.verdict ?? null;
}

function doNow(check: OutletCheck, enough: boolean, missing: string | null): string {
  if (!isOver(check) && isUnsuited(check)) return say('doNotPlugIn').says;
  switch (check.step) {
    case 'no-load':
      if (enough) return say('plugIn').says;
      return missing ?? say(atMachine(check.setting) ? 'leaveUnplugged' : 'leaveEmpty').says;
    case 'idle':
      return enough ? idleEnough(check) : (missing ?? say('leaveIdle').says);
    case 'first-bead':
    case 'second-bead':
      return enough ? beadEnough(check) : (missing ?? weldNow(check));
    case 'judged':
      return (
        check.result?.remedies[0]?.says ?? check.result?.toProve?.[0] ?? say('resultStands').says
      );
    case 'stopped':
      return say('beginWhenReady').says;
  }
}

/** That the machine is on is no more than advised, so it is asked once more. */
const idleEnough = (check: OutletCheck): string =>
  say(wantsOf(check).every((want) => want.enough) ? 'clampCoupon' : 'goOnIfOn').says;

function weldNow({ second }: OutletCheck): string {
  if (second === null) return say('firstBead').says;
  return say(second === 'with-cord' ? 'secondWithCord' : 'secondAtFull').says;
}

function beadEnough(check: OutletCheck): string {
  if (check.bead?.burning) return say('endBead').says;
  const choices = choicesOf(check);
  if (choices.includes('with-cord')) return say('enoughWithCord').says;
  return say(choices.includes('full-setting') ? 'enoughForFull' : 'enoughJudge').says;
}

/** The wrong class of supply shows before any load, by its description before any reading. */
function warnings(check: OutletCheck): Said[] {
  if (isOver(check)) return [];
  return mismatches(check.setting, openVoltsOf(check)).map(saidBy);
}
