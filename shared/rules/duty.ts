import type { Plate } from '../protocol/plate.ts';
import type { DutyEvidence, Rule, Setting } from './facts.ts';
import { advise, compare, notAsked, reading } from './finding.ts';
import { limits } from './limits.ts';
import { branchAmpacity, gaugeName } from './wire.ts';
import { amps, percent } from './words.ts';

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
      return [notAsked(id, limits.duty, 'Duty is of ten minutes; this record is shorter.')];
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
      says:
        `The arc burned ${percent(highestFraction, 0)} of the busiest ten minutes; ` +
        `the plate allows ${percent(rated, 0)}` +
        (verdict === 'adequate' ? '.' : ' at most: let the machine cool.'),
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
      says:
        `Over the busiest ten minutes the current was ${amps(effectiveAmps)} effective; ` +
        `the plate names ${amps(limit.value)}.`,
      atS,
    })),
  ];
}

function conductors({ circuit, accuracy, duty: { effectiveAmps, atS } }: Asked) {
  const branch = circuit?.branch;
  if (!branch || effectiveAmps === null) return [];
  const source = branch.mm2 === undefined ? limits.ampacityByDuty : limits.ampacityMetric;
  const limit = { ...source, value: branchAmpacity(branch), unit: 'A' };
  return [
    compare(id, reading(effectiveAmps, accuracy.amps), limit, 'less', () => ({
      says:
        `The branch carried ${amps(effectiveAmps)} effective over ten minutes; ` +
        `its ${gaugeName(branch)} may carry ${amps(limit.value)}.`,
      electrician: `Ampacity of ${gaugeName(branch)}, ${branch.metal ?? 'copper'}, 60 °C column.`,
      atS,
    })),
  ];
}
