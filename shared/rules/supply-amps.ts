import type { Circuit } from '../protocol/circuit.ts';
import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Amperes } from '../units.ts';
import { ampacityOf, loadedConductors } from './ampacity.ts';
import { breakerKind, breakerZone, holdingLimit } from './breaker.ts';
import { breakerWords, noProof } from './breaker-words.ts';
import type { Rule, Setting } from './facts.ts';
import { advise, compare, notAsked, type Reading, state } from './finding.ts';
import { commonPractice, type Limit, limits } from './limits.ts';
import { receptacleAgainst, smallConductorMost } from './receptacle-pair.ts';
import { say, sayAll } from './say.ts';
import { largestBreaker, leastAmpacity } from './welder-ampacity.ts';
import { gaugeOf } from './wire.ts';
import { isMetricWiring } from './wiring-code.ts';

const id = 'supply-amps';
const electrician = say('electricianDecides');
const exact = (value: number): Reading => ({ value, lo: value, hi: value });

/** A described circuit with the machine's line, and what it asks of conductors. */
interface Wired {
  circuit: Circuit;
  rated: PlateSupply;
  least: Amperes;
  /** Of its branch; null where its wire is not described. */
  carries: ReturnType<typeof ampacityOf> | null;
}

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
    limits.breakerUl,
    limits.breakerIec,
    limits.breakerIndustrial,
    limits.smallConductor,
    limits.receptacle,
    limits.receptaclePair,
  ],
  ask({ circuit, rated, plate }) {
    if (rated === null) return [notAsked(id, limits.ampacityByDuty, say('noPlate'))];
    if (circuit === null) return [notAsked(id, limits.ampacityByDuty, say('wiringNotDescribed'))];
    const { branch } = circuit;
    const sized = branch && (branch.awg !== undefined || branch.mm2 !== undefined);
    const carries = sized ? ampacityOf(branch, loadedConductors(circuit, plate)) : null;
    const wired = { circuit, rated, least: leastAmpacity(rated, plate?.ratings), carries };
    const findings = [
      ...conductors(wired),
      ...breaker(wired),
      ...smallConductor(wired),
      ...receptacle(wired),
    ];
    if (findings.length > 0) return findings;
    return [notAsked(id, limits.ampacityByDuty, say('wiringNotDescribed'))];
  },
};

function conductors({ circuit: { branch }, rated, least, carries }: Wired): Finding[] {
  if (!branch || carries === null) return [];
  const { amps } = carries;
  const wire = { wire: gaugeOf(branch), metal: branch.metal ?? ('copper' as const) };
  const byDuty = branch.mm2 === undefined ? limits.ampacityByDuty : limits.ampacityMetric;
  const duty = compare(id, exact(amps), { ...byDuty, value: least, unit: 'A' }, 'more', () => ({
    ...say('branchCarries', { ...wire, carries: amps, least }),
    electrician: sayAll(say('ampacityBy', carries.by), electrician),
  }));
  const full = advise(
    id,
    exact(amps),
    { ...limits.ampacityFull, value: rated.I1max, unit: 'A' },
    'more',
    (verdict) => ({
      ...say('fullCurrent', {
        ...{ ...wire, amps: rated.I1max, carries: amps, good: verdict === 'adequate' },
      }),
      electrician: say('stricterRule'),
    }),
  );
  return [duty, full];
}

function breaker(wired: Wired): Finding[] {
  const { circuit, rated, least } = wired;
  const { breakerAmps } = circuit;
  if (breakerAmps === undefined) return [];
  const stands = compare(
    id,
    exact(breakerAmps),
    { ...limits.ampacityByDuty, value: least, unit: 'A' },
    'more',
    () => ({
      ...say('breakerStands', { breaker: breakerAmps, least }),
      electrician: sayAll(noProof, electrician),
    }),
  );
  const kind = breakerKind(circuit, breakerAmps);
  const limit = holdingLimit(kind);
  const holds = { value: rated.I1max / limit.value, unit: 'A', source: limit.source };
  const full = advise(id, exact(breakerAmps), holds, 'more', () =>
    breakerWords(breakerZone(rated.I1max, kind), kind, rated.I1max),
  );
  return [stands, full, ...tooLarge(breakerAmps, wired)];
}

function tooLarge(breakerAmps: Amperes, { circuit, rated, carries }: Wired): Finding[] {
  const most = (limit: Limit, of: Amperes) => ({
    value: largestBreaker(limit.value * of),
    unit: 'A',
    source: limit.source,
  });
  const forMachine = most(limits.breakerOverWelder, rated.I1max);
  const machine = advise(id, exact(breakerAmps), forMachine, 'less', () => ({
    ...say('breakerLarge', { breaker: breakerAmps, most: forMachine.value }),
    electrician,
  }));
  if (carries === null) return [machine].filter(({ verdict }) => verdict !== 'adequate');
  const forWire = most(limits.breakerOverConductor, carries.amps);
  const wire = gaugeOf(circuit.branch!);
  const conductor = advise(id, exact(breakerAmps), forWire, 'less', () => ({
    ...say('breakerLargeForWire', { breaker: breakerAmps, most: forWire.value, wire }),
    electrician,
  }));
  return [machine, conductor].filter(({ verdict }) => verdict !== 'adequate');
}

/** What is lawful on a welder's circuit alone is told wherever it is made use of. */
function smallConductor({ circuit: { breakerAmps, branch, dedicated } }: Wired): Finding[] {
  const most = branch ? smallConductorMost(branch) : null;
  if (most === null || breakerAmps === undefined || breakerAmps <= most) return [];
  const alone = dedicated === true;
  const words = {
    ...say('smallConductor', { breaker: breakerAmps, most, wire: gaugeOf(branch!), alone }),
    electrician,
  };
  const verdict = alone ? 'adequate' : 'marginal';
  return [{ ...state(id, verdict, words, limits.smallConductor.source, 'A'), limit: most }];
}

function receptacle({ circuit, least }: Wired): Finding[] {
  const { receptacleAmps } = circuit;
  if (receptacleAmps === undefined) return [];
  const limit = { ...limits.receptacle, value: least, unit: 'A' };
  const stands = compare(id, exact(receptacleAmps), limit, 'more', () => ({
    ...say('receptacleStands', { receptacle: receptacleAmps, least }),
    electrician,
  }));
  return [stands, ...againstBreaker(circuit, receptacleAmps, stands.verdict === 'adequate')];
}

/** `enough`: for the machine, so that the welder's exception may be used. */
function againstBreaker(circuit: Circuit, receptacleAmps: Amperes, enough: boolean): Finding[] {
  const { breakerAmps, dedicated } = circuit;
  if (breakerAmps === undefined) return [];
  const metric = isMetricWiring(circuit);
  const pair = receptacleAgainst(breakerAmps, receptacleAmps);
  if (pair === 'fits' || (pair === 'over' && (dedicated === true || metric))) return [];
  const figures = { receptacle: receptacleAmps, breaker: breakerAmps };
  const alone = dedicated === true && enough && !metric;
  const words =
    pair === 'over'
      ? say('receptacleOver', figures)
      : metric
        ? say('socketUnder', figures)
        : say('receptacleUnder', { ...figures, alone });
  const source = metric ? commonPractice : limits.receptaclePair.source;
  const verdict = alone ? 'adequate' : 'marginal';
  return [
    { ...state(id, verdict, { ...words, electrician }, source, 'A'), measured: receptacleAmps },
  ];
}
