import type { Rule, SagEvidence, Setting } from './facts.ts';
import { advise, notAsked, reading, state } from './finding.ts';
import { inVolts, limits } from './limits.ts';
import { percent, seconds, volts } from './words.ts';

const id = 'sag';

/** Told for its own sake; whether a weld had enough voltage is asked of the plate. */
export const sag: Rule<Setting & { sags: SagEvidence }> = {
  id,
  asks: 'residual voltage and duration of every dip under 90 % of nominal, with its category',
  required: 'never',
  limits: [limits.sag],
  ask({ sags, nominalVolts, accuracy }) {
    if (nominalVolts === null)
      return [notAsked(id, limits.sag, 'No nominal voltage fits what was measured.')];
    const { count, worst } = sags;
    if (worst === null)
      return [
        state(
          id,
          'adequate',
          { says: `The voltage never dipped under 90 % of ${nominalVolts} V.` },
          limits.sag.source,
          'V',
        ),
      ];
    const limit = inVolts(limits.sag, worst.referenceVolts);
    const measured = reading(worst.residualVolts, accuracy.halfCycleVolts);
    const kind = worst.category === null ? '' : ` (${worst.category})`;
    const more = count > 1 ? `, the worst of ${count}` : '';
    return [
      advise(id, measured, limit, 'more', () => ({
        says:
          `A dip to ${volts(worst.residualVolts)}, ` +
          `${percent(worst.residualVolts / worst.referenceVolts, 0)} of nominal, for ` +
          `${seconds(worst.durationS)}${kind}${more}` +
          `${worst.duringArc ? ', while welding' : ', with no arc burning'}.`,
        atS: [worst.startS, worst.startS + worst.durationS],
      })),
    ];
  },
};
