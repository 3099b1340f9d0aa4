import type { CheckTelling } from '../protocol/outlet-check.ts';
import { choicesOf, isEnough, type OutletCheck, wantsOf } from './outlet-check.ts';
import { voltageClass } from './voltage-class.ts';

/** What to show and to do at this moment. */
export function tellCheck(check: OutletCheck): CheckTelling {
  const wants = wantsOf(check);
  const enough = isEnough(check);
  const begun = check.run !== null || check.bead !== null;
  const missing = wants.find((want) => want.needed && !want.enough);
  return {
    step: check.step,
    doNow: doNow(check, enough, begun ? (missing?.doNow ?? null) : null),
    wants,
    enough,
    choices: choicesOf(check),
    verdict: check.result?.verdict ?? check.bead?.arc.verdict ?? null,
    warnings: warnings(check),
    note: check.note,
  };
}

function doNow(check: OutletCheck, enough: boolean, missing: string | null): string {
  const { step, second } = check;
  switch (step) {
    case 'no-load':
      return enough
        ? 'Plug the machine in, switch it on, and go on.'
        : (missing ?? 'Leave the outlet empty until its voltage is taken.');
    case 'idle':
      return enough
        ? 'Go on, and clamp a coupon of the same metal.'
        : (missing ?? 'Leave the machine on without welding.');
    case 'first-bead':
      if (enough) return secondWords(check);
      return missing ?? 'Weld a bead on the coupon, two seconds or more, at your usual setting.';
    case 'second-bead':
      if (enough) return 'Enough: have it judged.';
      if (missing !== null) return missing;
      return second === 'with-cord'
        ? 'Put the cord in, uncoiled, and weld another bead on the coupon.'
        : 'Set the machine as high as the work will need, and weld another bead on the coupon.';
    case 'judged':
      return check.result?.remedies[0]?.says ?? 'Done: the result stands with this outlet.';
    case 'stopped':
      return 'Begin a new check when you are ready.';
  }
}

function secondWords(check: OutletCheck): string {
  const cord = choicesOf(check).includes('with-cord');
  return cord
    ? 'Enough. Weld again with the cord you will use, or have it judged.'
    : 'Enough. Weld again at full setting for surer figures, or have it judged.';
}

/** The wrong class of supply shows before any load. */
function warnings({ run, noLoad, idle, setting, step }: OutletCheck): string[] {
  const open = (noLoad ?? idle ?? run)?.volts ?? null;
  if (open === null || step === 'judged' || step === 'stopped') return [];
  return voltageClass
    .ask({ ...setting, openVolts: open })
    .filter(({ verdict }) => verdict === 'underpowered' || verdict === 'marginal')
    .map(({ says }) => says);
}
