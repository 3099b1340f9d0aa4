import type { OtherLoadEvidence, Rule, Setting } from './facts.ts';
import { advise, compare, notAsked, state, thinEvidence } from './finding.ts';
import { limits } from './limits.ts';
import { say } from './say.ts';

const id = 'other-load';

/**
 * Steps of voltage that the sensor's own current does not explain, told as the current that would
 * make them at this outlet: a load upstream of the panel, on less impedance, shows smaller.
 */
export const otherLoad: Rule<Setting & { others: OtherLoadEvidence }> = {
  id,
  asks: 'anything else on a circuit that must be dedicated',
  required: 'on a dedicated circuit',
  limits: [limits.otherLoad],
  ask({ circuit, others: { count, worst, searched } }) {
    const required = circuit?.dedicated === true;
    if (!required && worst === null) return [notAsked(id, limits.otherLoad, say('notDedicated'))];
    if (worst === null && !searched)
      return [
        thinEvidence(id, limits.otherLoad, {
          ...say('othersNotTold'),
          required,
        }),
      ];
    if (worst === null) {
      const words = { ...say('noOther'), required };
      return [state(id, 'adequate', words, limits.otherLoad.source, 'A')];
    }
    const measured = {
      value: worst.amps,
      lo: worst.amps - worst.halfWidthAmps,
      hi: worst.amps + worst.halfWidthAmps,
    };
    const step = { volts: worst.volts, atS: worst.atS };
    return [
      (required ? compare : advise)(id, measured, limits.otherLoad, 'less', (verdict) => ({
        ...(verdict === 'adequate'
          ? say('otherTooLittle', step)
          : say('otherRuns', { ...step, dedicated: required })),
        electrician: say('otherSteps', { count, amps: worst.amps }),
        atS: [worst.atS, worst.atS],
        required,
      })),
    ];
  },
};
