import type { OtherLoadEvidence, Rule, Setting } from './facts.ts';
import { notAsked, state, thinEvidence } from './finding.ts';
import { limits } from './limits.ts';
import { seconds, volts } from './words.ts';

const id = 'other-load';

/** Steps of voltage that the sensor's own current does not explain. */
export const otherLoad: Rule<Setting & { others: OtherLoadEvidence }> = {
  id,
  asks: 'anything else on a circuit that must be dedicated',
  required: 'on a dedicated circuit',
  limits: [limits.otherLoad],
  ask({ circuit, others: { count, worst, searched } }) {
    const required = circuit?.dedicated === true;
    if (circuit === null || circuit.dedicated === undefined)
      if (worst === null)
        return [notAsked(id, limits.otherLoad, 'Nobody said that this circuit is dedicated.')];
    if (!searched)
      return [
        thinEvidence(id, limits.otherLoad, {
          says: 'Whether anything else runs on this circuit could not be told.',
          required,
        }),
      ];
    const source = limits.otherLoad.source;
    if (worst === null)
      return [
        state(id, 'adequate', { says: 'Nothing else was seen to switch.', required }, source),
      ];
    const fell =
      `The voltage fell by ${volts(-worst.volts)} at ${seconds(worst.atS)} ` +
      'without this machine drawing more: ';
    const says = required
      ? `${fell}something else runs on a circuit that is meant to be dedicated.`
      : `${fell}something else runs on this supply.`;
    return [
      {
        ...state(id, required ? 'underpowered' : 'marginal', { says, required }, source, 'V'),
        electrician: `${count} such steps; a load upstream of the panel shows smaller.`,
        measured: worst.volts,
        limit: limits.otherLoad.value,
        margin: worst.volts - limits.otherLoad.value,
        interval: [worst.volts - worst.halfWidthVolts, worst.volts + worst.halfWidthVolts],
        atS: [worst.atS, worst.atS],
      },
    ];
  },
};
