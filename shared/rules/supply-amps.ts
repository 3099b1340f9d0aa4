import type { Circuit } from '../protocol/circuit.ts';
import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Rule, Setting } from './facts.ts';
import { advise, compare, notAsked, type Reading } from './finding.ts';
import { limits } from './limits.ts';
import { say } from './say.ts';
import { largestBreaker, leastAmpacity } from './welder-ampacity.ts';
import { branchAmpacity, gaugeOf } from './wire.ts';

const id = 'supply-amps';
const electrician = say('electricianDecides');
const exact = (value: number): Reading => ({ value, lo: value, hi: value });

/**
 * The electrical code's duty-cycle rule and workplace safety law's full-current rule stand side by
 * side; neither is called compliance.
 */
export const supplyAmps: Rule<Setting> = {
  id,
  asks: 'conductors, receptacle and breaker against I1eff, I1max and the duty multipliers',
  required: 'never',
  limits: [
    limits.ampacityByDuty,
    limits.ampacityFull,
    limits.ampacityMetric,
    limits.breakerOverWelder,
    limits.breakerOverConductor,
    limits.breakerTrips,
    limits.receptacle,
  ],
  ask({ circuit, rated, plate }) {
    if (rated === null) return [notAsked(id, limits.ampacityByDuty, say('noPlate'))];
    const least = leastAmpacity(rated, plate?.ratings);
    const findings =
      circuit === null
        ? []
        : [
            ...conductors(circuit, rated, least),
            ...breaker(circuit, rated, least),
            ...receptacle(circuit, least),
          ];
    if (findings.length > 0) return findings;
    return [notAsked(id, limits.ampacityByDuty, say('wiringNotDescribed'))];
  },
};

function conductors({ branch }: Circuit, rated: PlateSupply, least: number): Finding[] {
  if (!branch || (branch.awg === undefined && branch.mm2 === undefined)) return [];
  const carries = branchAmpacity(branch);
  const wire = { wire: gaugeOf(branch), metal: branch.metal ?? ('copper' as const) };
  const byDuty = branch.mm2 === undefined ? limits.ampacityByDuty : limits.ampacityMetric;
  const duty = compare(id, exact(carries), { ...byDuty, value: least, unit: 'A' }, 'more', () => ({
    ...say('branchCarries', { ...wire, carries, least }),
    electrician: say('column60'),
  }));
  const full = advise(
    id,
    exact(carries),
    { ...limits.ampacityFull, value: rated.I1max, unit: 'A' },
    'more',
    (verdict) => ({
      ...say('fullCurrent', {
        ...{ ...wire, amps: rated.I1max, carries, good: verdict === 'adequate' },
      }),
      electrician: say('stricterRule'),
    }),
  );
  return [duty, full];
}

function breaker({ breakerAmps, branch }: Circuit, rated: PlateSupply, least: number): Finding[] {
  if (breakerAmps === undefined) return [];
  const holds = compare(
    id,
    exact(breakerAmps),
    { ...limits.ampacityByDuty, value: least, unit: 'A' },
    'more',
    () => ({
      ...say('breakerStands', { breaker: breakerAmps, least }),
      electrician,
    }),
  );
  const trips = {
    value: rated.I1max / limits.breakerTrips.value,
    unit: 'A',
    source: limits.breakerTrips.source,
  };
  const full = advise(id, exact(breakerAmps), trips, 'more', (verdict) => ({
    ...say('breakerTrips', {
      ...{ breaker: breakerAmps, amps: rated.I1max, good: verdict === 'adequate' },
    }),
    electrician: say('neverLarger'),
  }));
  return [holds, full, ...tooLarge(breakerAmps, branch, rated)];
}

function tooLarge(breakerAmps: number, branch: Circuit['branch'], rated: PlateSupply): Finding[] {
  const most = (
    limit: typeof limits.breakerOverWelder | typeof limits.breakerOverConductor,
    of: number,
  ) => ({ value: largestBreaker(limit.value * of), unit: 'A', source: limit.source });
  const above = [
    { limit: most(limits.breakerOverWelder, rated.I1max), wire: null },
    ...(branch
      ? [
          {
            limit: most(limits.breakerOverConductor, branchAmpacity(branch)),
            wire: gaugeOf(branch),
          },
        ]
      : []),
  ];
  return above
    .map(({ limit, wire }) =>
      advise(id, exact(breakerAmps), limit, 'less', () => ({
        ...(wire
          ? say('breakerLargeForWire', { breaker: breakerAmps, most: limit.value, wire })
          : say('breakerLarge', { breaker: breakerAmps, most: limit.value })),
        electrician,
      })),
    )
    .filter((finding) => finding.verdict !== 'adequate');
}

function receptacle({ receptacleAmps }: Circuit, least: number): Finding[] {
  if (receptacleAmps === undefined) return [];
  const limit = { ...limits.receptacle, value: least, unit: 'A' };
  return [
    compare(id, exact(receptacleAmps), limit, 'more', () => ({
      ...say('receptacleStands', { receptacle: receptacleAmps, least }),
      electrician,
    })),
  ];
}
