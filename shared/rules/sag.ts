import type { Rule, SagEvidence, Setting } from './facts.ts';
import { advise, notAsked, reading, state } from './finding.ts';
import { inVolts, limits } from './limits.ts';
import { say } from './say.ts';
import { supplyLost } from './supply-lost.ts';

const id = 'sag';

/** Told for its own sake; whether a weld had enough voltage is asked of the plate. */
export const sag: Rule<Setting & { sags: SagEvidence }> = {
  id,
  asks:
    'residual voltage and duration of every sag under 90 % of nominal, with its category; a ' +
    'supply lost under load',
  required: 'never',
  limits: [limits.sag],
  ask(asked) {
    const { sags, nominalVolts, accuracy } = asked;
    if (nominalVolts === null) return [notAsked(id, limits.sag, say('noNominal'))];
    const { count, worst } = sags;
    if (worst === null)
      return [
        state(id, 'adequate', say('noSag', { nominal: nominalVolts }), limits.sag.source, 'V'),
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
      ...supplyLost(asked, sags),
    ];
  },
};
