import type { Plate } from '../protocol/plate.ts';
import { ampacityOf, loadedConductors } from './ampacity.ts';
import type { DutyEvidence, Rule, Setting } from './facts.ts';
import { advise, compare, notAsked, reading } from './finding.ts';
import { limits } from './limits.ts';
import { say } from './say.ts';
import { gaugeOf } from './wire.ts';

const id = 'duty';
type Asked = Setting & { duty: DutyEvidence };

/**
 * Over a machine's duty is a matter of its own thermostat, so advice; over the conductors' ampacity
 * is one of the circuit.
 */
export const duty: Rule<Asked> = {
  id,
  asks: 'arc-on share of ten minutes and I1eff against the plate and the conductors',
  required: 'never',
  limits: [limits.duty, limits.effectiveAmps, limits.ampacityByDuty, limits.ampacityMetric],
  ask(asked) {
    if (asked.duty.highestFraction === null || asked.duty.effectiveAmps === null)
      return [notAsked(id, limits.duty, say('dutyTooShort'))];
    return [...plateDuty(asked), ...plateEffective(asked), ...conductors(asked)];
  },
};

/** Highest duty that the plate names; the setting's own point is not seen from the supply side. */
export const highestRatedDuty = (plate: Plate): number | null =>
  plate.ratings?.length ? Math.max(...plate.ratings.map((rating) => rating.X)) : null;

function plateDuty({ plate, duty: { highestFraction, atS } }: Asked) {
  const rated = plate === null ? null : highestRatedDuty(plate);
  if (rated === null || highestFraction === null) return [];
  const limit = { ...limits.duty, value: rated };
  return [
    advise(id, reading(highestFraction, 0.01), limit, 'less', (verdict) => ({
      ...say('duty', { part: highestFraction, plate: rated, over: verdict !== 'adequate' }),
      atS,
    })),
  ];
}

function plateEffective({ rated, accuracy, duty: { effectiveAmps, atS } }: Asked) {
  if (rated?.I1eff === undefined || effectiveAmps === null) return [];
  const limit = { ...limits.effectiveAmps, value: rated.I1eff, unit: 'A' };
  const measured = reading(effectiveAmps, accuracy.amps);
  return [
    advise(id, measured, limit, 'less', () => ({
      ...say('effective', { amps: effectiveAmps, plate: limit.value }),
      atS,
    })),
  ];
}

function conductors({ circuit, plate, accuracy, duty: { effectiveAmps, atS } }: Asked) {
  const branch = circuit?.branch;
  if (!branch || effectiveAmps === null) return [];
  const source = branch.mm2 === undefined ? limits.ampacityByDuty : limits.ampacityMetric;
  const { amps: carries, by } = ampacityOf(branch, loadedConductors(circuit, plate));
  const limit = { ...source, value: carries, unit: 'A' };
  const wire = gaugeOf(branch);
  return [
    compare(id, reading(effectiveAmps, accuracy.amps), limit, 'less', () => ({
      ...say('branchCarried', { amps: effectiveAmps, wire, carries: limit.value }),
      electrician: say('ampacityBy', by),
      atS,
    })),
  ];
}
