import type { CheckTelling } from '../protocol/outlet-check.ts';
import { choicesOf, isEnough, type OutletCheck, wantsOf } from './outlet-check.ts';
import { type Said, saidBy, say } from './say.ts';
import { voltageClass } from './voltage-class.ts';

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
    verdict: check.result?.verdict ?? check.bead?.arc.verdict ?? null,
    warnings: warned.map(({ says }) => says),
    warningSayings: warned.map(({ saying }) => saying),
    note: check.note,
    noteSaying: check.noteSaying ?? null,
  };
}

function doNow(check: OutletCheck, enough: boolean, missing: string | null): string {
  const { step, second } = check;
  const unless = (
    name: 'leaveEmpty' | 'leaveIdle' | 'firstBead' | 'secondWithCord' | 'secondAtFull',
  ) => missing ?? say(name).says;
  switch (step) {
    case 'no-load':
      return enough ? say('plugIn').says : unless('leaveEmpty');
    case 'idle':
      return enough ? say('clampCoupon').says : unless('leaveIdle');
    case 'first-bead':
      if (!enough) return unless('firstBead');
      return say(choicesOf(check).includes('with-cord') ? 'enoughWithCord' : 'enoughForFull').says;
    case 'second-bead':
      if (enough) return say('enoughJudge').says;
      return unless(second === 'with-cord' ? 'secondWithCord' : 'secondAtFull');
    case 'judged':
      return check.result?.remedies[0]?.says ?? say('resultStands').says;
    case 'stopped':
      return say('beginWhenReady').says;
  }
}

/** The wrong class of supply shows before any load. */
function warnings({ run, noLoad, idle, setting, step }: OutletCheck): Said[] {
  const open = (noLoad ?? idle ?? run)?.volts ?? null;
  if (open === null || step === 'judged' || step === 'stopped') return [];
  return voltageClass
    .ask({ ...setting, openVolts: open })
    .filter(({ verdict }) => verdict === 'underpowered' || verdict === 'marginal')
    .map(saidBy);
}
