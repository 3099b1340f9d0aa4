import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Rule, Setting, SupplyEvidence } from './facts.ts';
import { compare, notAsked, type Reading, thinEvidence } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { inVolts, limits } from './limits.ts';
import { amps, percent, volts } from './words.ts';

const id = 'full-load';

/** A light bead does not prove a heavy weld: the voltage at full current is foretold. */
export const fullLoad: Rule<Setting & { supply: SupplyEvidence }> = {
  id,
  asks: 'voltage foretold at I1max, lower end of its 95 % interval, at least U1 − 10 %',
  required: 'always',
  limits: [limits.plateLow, limits.provenShare],
  ask(asked) {
    const { rated, supply } = asked;
    if (rated === null)
      return [notAsked(id, limits.plateLow, 'No rating plate was given: full load is not known.')];
    const foretold = fullLoadVolts(asked, rated, supply);
    if (foretold === null)
      return [
        thinEvidence(id, limits.plateLow, {
          says:
            'What full load would do is not proven yet: weld a longer or heavier bead, ' +
            'with nothing else switching on this circuit.',
          electrician: 'No step of current was large and quiet enough to estimate the supply.',
          required: true,
        }),
      ];
    return [judged(asked, rated, supply, foretold)];
  },
};

function judged(
  setting: Setting,
  rated: PlateSupply,
  supply: SupplyEvidence,
  foretold: Reading,
): Finding {
  const limit = inVolts(limits.plateLow, rated.U1);
  const needs = volts(limit.value, foretold.value);
  const at = volts(foretold.value, limit.value);
  const low = volts(foretold.lo, limit.value);
  const load = amps(rated.I1max);
  const finding = compare(id, foretold, limit, 'more', (verdict) => ({
    says: {
      adequate: `At the plate's full ${load} the voltage would hold at ${at}; it needs ${needs}.`,
      marginal:
        `At the plate's full ${load} the voltage would be ${at}, and may be as low as ` +
        `${low}; it needs ${needs}.`,
      underpowered:
        `At the plate's full ${load} the voltage would fall to ${at}; ` + `it needs ${needs}.`,
      unproven: '',
    }[verdict],
    electrician: impedanceWords(setting, supply),
    required: true,
  }));
  const share = provenShare(rated, supply);
  if (finding.verdict === 'underpowered' || share >= limits.provenShare.value) return finding;
  return {
    ...finding,
    verdict: 'unproven',
    says:
      `The heaviest load was ${percent(share, 0)} of the plate's ${load}: ` +
      'too light a bead to vouch for a heavy weld.',
  };
}

/** Part of I1max that the smallest of the pairs' largest steps reached; a described supply is 1. */
function provenShare(rated: PlateSupply, supply: SupplyEvidence): number {
  const steps = supply.pairs.map((view) =>
    view === null || view.largestStepAmps === null
      ? rated.I1max
      : view.largestStepAmps / view.fundamentalShare,
  );
  return Math.min(...steps) / rated.I1max;
}

function impedanceWords(setting: Setting, supply: SupplyEvidence): string {
  const each = supply.pairs.map((view) =>
    view === null ? '?' : `${view.ohmsR.toFixed(3)} + j${view.ohmsX.toFixed(3)} Ω`,
  );
  const where = setting.circuit?.sensorAt === 'machine' ? 'the machine' : 'the sensor';
  return `Source impedance seen at ${where}: ${each.join(', ')}.`;
}
