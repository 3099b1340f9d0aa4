import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Rule, Setting, SupplyEvidence } from './facts.ts';
import { compare, notAsked, type Reading, thinEvidence } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { inVolts, limits } from './limits.ts';
import { type Said, say } from './say.ts';

const id = 'full-load';

/** A light bead does not prove a heavy weld: the voltage at full current is foretold. */
export const fullLoad: Rule<Setting & { supply: SupplyEvidence }> = {
  id,
  asks: 'voltage foretold at I1max, lower end of its 95 % interval, at least U1 − 10 %',
  required: 'always',
  limits: [limits.plateLow, limits.provenShare],
  ask(asked) {
    const { rated, supply } = asked;
    if (rated === null) return [notAsked(id, limits.plateLow, say('noPlateForLoad'))];
    const foretold = fullLoadVolts(asked, rated, supply);
    if (foretold === null)
      return [
        thinEvidence(id, limits.plateLow, {
          ...say('loadNotProven'),
          electrician: say('noStepLargeEnough'),
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
  const figures = { value: foretold.value, lo: foretold.lo, limit: limit.value };
  const finding = compare(id, foretold, limit, 'more', (verdict) => ({
    ...say(loadWords[verdict], { ...figures, amps: rated.I1max }),
    electrician: impedanceWords(setting, supply),
    required: true,
  }));
  const share = provenShare(setting, rated, supply);
  if (finding.verdict === 'underpowered' || share >= limits.provenShare.value) return finding;
  return {
    ...finding,
    verdict: 'unproven',
    ...say('tooLight', { part: share, amps: rated.I1max }),
  };
}

const loadWords = {
  adequate: 'loadHolds',
  marginal: 'loadNear',
  underpowered: 'loadFalls',
  unproven: 'loadFalls',
} as const;

/** Part of I1max that the smallest of the loops' largest steps reached; a described supply is 1. */
function provenShare({ ampsPerLine }: Setting, rated: PlateSupply, supply: SupplyEvidence): number {
  const steps = supply.pairs.map((view) =>
    view === null || view.largestStepAmps === null
      ? rated.I1max
      : view.largestStepAmps / view.fundamentalShare / ampsPerLine,
  );
  return Math.min(...steps) / rated.I1max;
}

function impedanceWords(setting: Setting, supply: SupplyEvidence): Said {
  const pairs = supply.pairs.map((view): [number, number] | null =>
    view === null ? null : [view.ohmsR, view.ohmsX],
  );
  const at = setting.circuit?.sensorAt === 'machine' ? 'machine' : 'sensor';
  return say('impedance', { at, pairs });
}
