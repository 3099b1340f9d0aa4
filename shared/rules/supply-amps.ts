import type { Circuit } from '../protocol/circuit.ts';
import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Rule, Setting } from './facts.ts';
import { advise, compare, notAsked, type Reading } from './finding.ts';
import { limits } from './limits.ts';
import { largestBreaker, leastAmpacity } from './welder-ampacity.ts';
import { branchAmpacity, gaugeName } from './wire.ts';
import { amps } from './words.ts';

const id = 'supply-amps';
const electrician = 'For a licensed electrician and the local code to decide.';
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
    if (rated === null) return [notAsked(id, limits.ampacityByDuty, 'No rating plate was given.')];
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
    return [notAsked(id, limits.ampacityByDuty, 'Wire, breaker and receptacle are not described.')];
  },
};

function conductors({ branch }: Circuit, rated: PlateSupply, least: number): Finding[] {
  if (!branch || (branch.awg === undefined && branch.mm2 === undefined)) return [];
  const carries = branchAmpacity(branch);
  const wire = `${gaugeName(branch)} ${branch.metal ?? 'copper'}`;
  const byDuty = branch.mm2 === undefined ? limits.ampacityByDuty : limits.ampacityMetric;
  const duty = compare(id, exact(carries), { ...byDuty, value: least, unit: 'A' }, 'more', () => ({
    says: `The branch's ${wire} may carry ${amps(carries)}; ${amps(least)} effective is asked.`,
    electrician: `60 °C column; a 75 °C termination may allow more. ${electrician}`,
  }));
  const full = advise(
    id,
    exact(carries),
    { ...limits.ampacityFull, value: rated.I1max, unit: 'A' },
    'more',
    (verdict) => ({
      says:
        `Workplace safety law asks ${amps(rated.I1max)}, the full primary current, of ${wire}: ` +
        (verdict === 'adequate' ? 'it has that.' : `it has ${amps(carries)}.`),
      electrician: `The stricter of the two rules for one machine. ${electrician}`,
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
      says: `The ${amps(breakerAmps)} breaker stands against ${amps(least)} effective.`,
      electrician,
    }),
  );
  const trips = {
    value: rated.I1max / limits.breakerTrips.value,
    unit: 'A',
    source: limits.breakerTrips.source,
  };
  const full = advise(id, exact(breakerAmps), trips, 'more', (verdict) => ({
    says:
      `At ${amps(rated.I1max)} a ${amps(breakerAmps)} breaker ` +
      (verdict === 'adequate' ? 'holds for a long weld.' : 'may trip in a long weld.'),
    electrician: `Never a larger breaker for tripping alone. ${electrician}`,
  }));
  return [holds, full, ...tooLarge(breakerAmps, branch, rated)];
}

function tooLarge(breakerAmps: number, branch: Circuit['branch'], rated: PlateSupply): Finding[] {
  const most = (
    limit: typeof limits.breakerOverWelder | typeof limits.breakerOverConductor,
    of: number,
  ) => ({ value: largestBreaker(limit.value * of), unit: 'A', source: limit.source });
  const above = [
    { limit: most(limits.breakerOverWelder, rated.I1max), what: 'this machine' },
    ...(branch
      ? [
          {
            limit: most(limits.breakerOverConductor, branchAmpacity(branch)),
            what: `${gaugeName(branch)} wire feeding a welder`,
          },
        ]
      : []),
  ];
  return above
    .map(({ limit, what }) =>
      advise(id, exact(breakerAmps), limit, 'less', () => ({
        says: `A ${amps(breakerAmps)} breaker; ${amps(limit.value)} is the most for ${what}.`,
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
      says: `The ${amps(receptacleAmps)} receptacle stands against ${amps(least)} effective.`,
      electrician,
    })),
  ];
}
