import type { Rule, Setting, SupplyEvidence } from './facts.ts';
import { advise, notAsked, type Reading, thinEvidence } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { limits } from './limits.ts';
import { say } from './say.ts';
import { runOhms } from './wire.ts';
import { openMachineVolts } from './wiring.ts';

const id = 'drop';
type Asked = Setting & { supply: SupplyEvidence };

/** Advice for the layout of wiring; a welder can be well fed with more, and ill fed with less. */
export const drop: Rule<Asked> = {
  id,
  asks: '(no-load − loaded)/no-load at I1max: branch 3 %, total 5 %',
  required: 'never',
  limits: [limits.dropBranch, limits.dropTotal],
  ask(asked) {
    if (asked.rated === null) return [notAsked(id, limits.dropTotal, say('noPlateForLoad'))];
    return [...totalDrop(asked, asked.rated), ...branchDrop(asked, asked.rated)];
  },
};

function totalDrop(asked: Asked, rated: { U1: number; I1max: number; I1eff?: number }) {
  // A share of the no-load voltage: how that moves, and what warm wire adds, are no part of it.
  const pairs = asked.supply.pairs.map(
    (view) =>
      view && { ...view, openVoltsSd: 0, openVoltsLow: view.openVolts, largestStepAmps: null },
  );
  const foretold = fullLoadVolts(asked, rated, { ...asked.supply, pairs });
  const open = openMachineVolts(asked.supply.pairs);
  if (foretold === null || open <= 0)
    return [thinEvidence(id, limits.dropTotal, say('dropNotKnown'))];
  const fall = (loaded: number) => (open - loaded) / open;
  const measured: Reading = {
    value: fall(foretold.value),
    lo: fall(foretold.hi),
    hi: fall(foretold.lo),
  };
  return [
    advise(id, measured, limits.dropTotal, 'less', () => ({
      ...say('totalDrop', {
        ...{ amps: rated.I1max, part: measured.value, usual: limits.dropTotal.value },
      }),
      electrician: say('fromOpenVoltage'),
    })),
  ];
}

/**
 * Of the described branch at 75 °C, by the book: √3·I·R for a machine of three phases, 2·I·R for
 * any other, on however many pairs it was measured.
 */
function branchDrop({ circuit, plate }: Asked, rated: { U1: number; I1max: number }) {
  const branch = circuit?.branch;
  if (!branch || (branch.feet === undefined && branch.metres === undefined)) return [];
  const three = plate?.phases === 3;
  const volts = (three ? Math.sqrt(3) : 2) * rated.I1max * runOhms(branch, 'fixed', 75);
  const part = volts / rated.U1;
  const measured: Reading = { value: part, lo: part, hi: part };
  return [
    advise(id, measured, limits.dropBranch, 'less', () =>
      say('branchDrop', { amps: rated.I1max, part, usual: limits.dropBranch.value }),
    ),
  ];
}
