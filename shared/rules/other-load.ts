import type { OtherLoadEvidence, Rule, Setting } from './facts.ts';
import { advise, compare, notAsked, state, thinEvidence } from './finding.ts';
import { limits } from './limits.ts';
import { amps, seconds, volts } from './words.ts';

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
    if (!required && worst === null)
      return [notAsked(id, limits.otherLoad, 'Nobody said that this circuit is dedicated.')];
    if (worst === null && !searched)
      return [
        thinEvidence(id, limits.otherLoad, {
          says: 'Whether anything else runs on this circuit could not be told.',
          required,
        }),
      ];
    if (worst === null) {
      const words = { says: 'Nothing else was seen to switch.', required };
      return [state(id, 'adequate', words, limits.otherLoad.source, 'A')];
    }
    const measured = {
      value: worst.amps,
      lo: worst.amps - worst.halfWidthAmps,
      hi: worst.amps + worst.halfWidthAmps,
    };
    const moved =
      worst.volts < 0
        ? `The voltage fell by ${volts(-worst.volts)} at ${seconds(worst.atS)} without this ` +
          'machine drawing more: '
        : `The voltage rose by ${volts(worst.volts)} at ${seconds(worst.atS)} without this ` +
          'machine drawing less: ';
    return [
      (required ? compare : advise)(id, measured, limits.otherLoad, 'less', (verdict) => ({
        says:
          verdict === 'adequate'
            ? `${moved}too little to be on this circuit.`
            : `${moved}something else runs on ${required ? 'a dedicated circuit' : 'this supply'}.`,
        electrician: `${count} such steps; the largest as of ${amps(worst.amps)} at this outlet.`,
        atS: [worst.atS, worst.atS],
        required,
      })),
    ];
  },
};
