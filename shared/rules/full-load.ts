import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Rule, Setting, SupplyEvidence } from './facts.ts';
import { compare, notAsked, type Reading, thinEvidence } from './finding.ts';
import { fullLoadVolts, leastVoltsAt } from './foretell.ts';
import { generatorLoad } from './generator-load.ts';
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
    if (supply.generator) return [generatorLoad(asked, rated, supply.generator)];
    const foretold = fullLoadVolts(asked, rated, supply);
    if (foretold === null)
      return [
        thinEvidence(id, limits.plateLow, {
          ...say('loadNotProven'),
          electrician: refusalWords(supply),
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
  if (finding.verdict === 'underpowered') return finding;
  const share = provenShare(setting, rated, supply);
  if (share < limits.provenShare.value) {
    const tooLight = say('tooLight', { part: share, amps: rated.I1max });
    return { ...finding, verdict: 'unproven', ...tooLight };
  }
  const against = contradiction(setting, supply);
  return against === null ? finding : { ...finding, verdict: 'unproven', ...against };
}

/**
 * The voltage that the estimate gives at least, at a current where less was measured: what it
 * foretells at any other current is no better founded. Sensor errors are the same on both sides.
 */
function contradiction({ accuracy }: Setting, { pairs, measured = [] }: SupplyEvidence) {
  const over = pairs.flatMap((view, pair) =>
    view === null
      ? []
      : (measured[pair] ?? [])
          .map(({ volts, amps }) => ({ predicted: leastVoltsAt(view, amps), volts, amps }))
          .filter(({ predicted, volts }) => predicted - volts > accuracy.volts * volts),
  );
  const [worst] = over.sort((a, b) => b.predicted - b.volts - (a.predicted - a.volts));
  return worst === undefined ? null : say('loadContradicted', worst);
}

/** Why the first refused pair was. */
function refusalWords({ refused = [] }: SupplyEvidence): Said {
  const first = refused.find((each) => each !== null);
  if (!first) return say('noStepLargeEnough');
  return say('supplyRefused', { code: first.code, params: { ...first.params } });
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
