import type { Finding } from '../protocol/judgement.ts';
import type { Rule, SagEvidence, Setting, SwellEvidence } from './facts.ts';
import { advise, notAsked, reading, state } from './finding.ts';
import { inVolts, limits } from './limits.ts';
import { say } from './say.ts';
import { supplyLost } from './supply-lost.ts';

const id = 'sag';

/** Told for its own sake; whether a weld had enough voltage is asked of the plate. */
export const sag: Rule<Setting & { sags: SagEvidence }> = {
  id,
  asks:
    'residual voltage and duration of every sag under 90 % of nominal, the highest of ' +
    'every swell over 110 %, with their categories; a supply lost under load',
  required: 'never',
  limits: [limits.sag, limits.swell],
  ask(asked) {
    const { sags, nominalVolts, accuracy } = asked;
    if (nominalVolts === null) return [notAsked(id, limits.sag, say('noNominal'))];
    const { count, worst } = sags;
    if (worst === null)
      return [
        state(id, 'adequate', say('noSag', { nominal: nominalVolts }), limits.sag.source, 'V'),
        ...swell(asked, sags.swells),
      ];
    const limit = inVolts(limits.sag, worst.referenceVolts);
    const measured = reading(worst.residualVolts, accuracy.halfCycleVolts);
    return [
      advise(id, measured, limit, 'more', () => ({
        ...say('sag', {
          volts: worst.residualVolts,
          nominal: worst.referenceVolts,
          seconds: worst.durationS,
          category: worst.category,
          count,
          arc: worst.duringArc,
        }),
        atS: [worst.startS, worst.startS + worst.durationS],
      })),
      ...swell(asked, sags.swells),
      ...supplyLost(asked, sags),
    ];
  },
};

/** Told where there was one; what it did to a machine that welded is asked of the plate. */
function swell({ accuracy }: Setting, swells: SwellEvidence | undefined): Finding[] {
  const worst = swells?.worst;
  if (!swells || !worst) return [];
  const limit = inVolts(limits.swell, worst.referenceVolts);
  const measured = reading(worst.highestVolts, accuracy.halfCycleVolts);
  return [
    advise(id, measured, limit, 'less', () => ({
      ...say('swell', {
        volts: worst.highestVolts,
        nominal: worst.referenceVolts,
        seconds: worst.durationS,
        category: worst.category,
        count: swells.count,
        arc: worst.duringArc,
      }),
      atS: [worst.startS, worst.startS + worst.durationS],
    })),
  ];
}
