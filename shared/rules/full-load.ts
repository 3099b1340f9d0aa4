import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Volts } from '../units.ts';
import { type Lack, lackOf, leastEvidence, loadSeen, loopsNeeded } from './evidence.ts';
import type { Rule, Setting, SupplyEvidence } from './facts.ts';
import { compare, notAsked, type Reading, thinEvidence } from './finding.ts';
import { fullLoadVolts, leastVoltsAt } from './foretell.ts';
import { generatorLoad } from './generator-load.ts';
import { inVolts, limits } from './limits.ts';
import { type Said, say } from './say.ts';

const id = 'full-load';

type Asked = Setting & { supply: SupplyEvidence; openVolts?: Volts | null };

/** A light bead does not prove a heavy weld: the voltage at full current is foretold. */
export const fullLoad: Rule<Asked> = {
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
    return [judged(asked, rated, foretold)];
  },
};

function judged(asked: Asked, rated: PlateSupply, foretold: Reading): Finding {
  const limit = inVolts(limits.plateLow, rated.U1);
  const place = asked.place ?? 'machine';
  const figures = { value: foretold.value, lo: foretold.lo, limit: limit.value, place };
  const finding = compare(id, foretold, limit, 'more', (verdict) => ({
    ...say(loadWords[verdict], { ...figures, amps: rated.I1max }),
    electrician: impedanceWords(asked, asked.supply),
    required: true,
  }));
  if (finding.verdict === 'underpowered') return finding;
  const seen = loadSeen(asked, asked.supply);
  const lack = lackOf(leastEvidence[id], seen, loopsNeeded(asked));
  if (lack !== null) return { ...finding, verdict: 'unproven', ...lackWords(lack, rated) };
  const against = contradiction(asked, asked.supply);
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

function lackWords(lack: Lack, { I1max }: PlateSupply): Said {
  if (lack.of === 'loops') return say('loopsLacking', lack);
  const { seconds: leastS, share: least } = leastEvidence[id];
  return say('loadTooThin', {
    ...{ full: I1max, leastAmps: Math.ceil(least * I1max), leastS },
    ...{ amps: lack.share * I1max, seconds: lack.seconds },
  });
}

const loadWords = {
  adequate: 'loadHolds',
  marginal: 'loadNear',
  underpowered: 'loadFalls',
  unproven: 'loadFalls',
} as const;

function impedanceWords(setting: Setting, supply: SupplyEvidence): Said {
  const pairs = supply.pairs.map((view): [number, number] | null =>
    view === null ? null : [view.ohmsR, view.ohmsX],
  );
  const at = setting.circuit?.sensorAt === 'machine' ? 'machine' : 'sensor';
  return say('impedance', { at, pairs });
}
