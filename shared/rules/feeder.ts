import type { Feeder, FeederConductor } from '../protocol/feeder.ts';
import type { Finding } from '../protocol/judgement.ts';
import type { Amperes } from '../units.ts';
import type { Rule } from './facts.ts';
import type { Group, Member } from './feeder-group.ts';
import { advise, compare, notAsked, type Reading } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { limits } from './limits.ts';
import { plannedSupply } from './planned-supply.ts';
import { groupAmpacity, largestBreaker } from './welder-ampacity.ts';
import { feederAmpacity, gaugeName, lengthName, runOhms } from './wire.ts';
import { amps, percent, volts } from './words.ts';

const id = 'feeder';
const electrician = 'For a licensed electrician and the local code to decide.';
const exact = (value: number): Reading => ({ value, lo: value, hi: value });

export interface FeederAsked {
  feeder: Feeder;
  group: Group;
}

/** Several machines on one feeder; of the two counts of current neither is called compliance. */
export const feeder: Rule<FeederAsked> = {
  id,
  asks:
    "a feeder of several machines: conductor and breaker against the group's amperes; voltage at " +
    'its far end with several burning at once',
  required: 'of its feeder',
  limits: [
    limits.groupAmps,
    limits.groupFull,
    limits.ampacityMetric,
    limits.breakerTrips,
    limits.breakerOverConductor,
    limits.plateLow,
    limits.dropFeeder,
    limits.atOnce,
  ],
  ask(asked) {
    if (asked.group.byFull.length === 0)
      return [notAsked(id, limits.groupAmps, 'No machine of the list suits a circuit of it.')];
    const findings = [...conductor(asked), ...breaker(asked), ...farEnd(asked)];
    if (findings.length > 0) return findings;
    return [notAsked(id, limits.groupAmps, 'Its conductor and breaker are not described.')];
  },
};

/** Effective amperes that a group asks of its feeder. */
export const groupAmps = ({ byEffective }: Group): Amperes =>
  groupAmpacity(byEffective.map(({ effectiveAmps }) => effectiveAmps));

export const sumOfFull = (members: readonly Member[]): Amperes =>
  members.reduce((sum, { fullAmps }) => sum + fullAmps, 0);

const count = (members: readonly Member[]): string =>
  members.length === 1 ? 'one machine' : `${members.length} machines`;

function conductor({ feeder: { conductor, phases = 1 }, group }: FeederAsked): Finding[] {
  if (!conductor) return [];
  const carries = feederAmpacity(conductor, phases);
  const least = groupAmps(group);
  const full = sumOfFull(group.byFull);
  const wire = `${gaugeName(conductor)} ${conductor.metal ?? 'copper'}`;
  const source =
    conductor.mm2 === undefined
      ? limits.groupAmps.source
      : `${limits.groupAmps.source}; ${limits.ampacityMetric.source}`;
  const byDuty = { value: least, unit: 'A', source };
  return [
    compare(id, exact(carries), byDuty, 'more', () => ({
      says:
        `The feeder's ${wire} may carry ${amps(carries)}; ${count(group.byEffective)} ` +
        `${group.byEffective.length === 1 ? 'asks' : 'ask'} ${amps(least)} effective.`,
      electrician: `All of the two largest, 85, 70 and then 60 % of the others. ${electrician}`,
      required: true,
    })),
    advise(
      id,
      exact(carries),
      { value: full, unit: 'A', source: limits.groupFull.source },
      'more',
      (verdict) => ({
        says:
          `With the full primary current of each it is ${amps(full)}: ` +
          (verdict === 'adequate' ? 'it has that.' : `${wire} has ${amps(carries)}.`),
        electrician: `The stricter count; a group may be fed by less. ${electrician}`,
      }),
    ),
  ];
}

function breaker({ feeder: of, group }: FeederAsked): Finding[] {
  const { breakerAmps, conductor: wire, phases = 1 } = of;
  if (breakerAmps === undefined) return [];
  const least = groupAmps(group);
  const { burning } = atOnce(of, group);
  const drawn = sumOfFull(burning);
  const holds = { value: least, unit: 'A', source: limits.groupAmps.source };
  const trips = {
    value: drawn / limits.breakerTrips.value,
    unit: 'A',
    source: limits.breakerTrips.source,
  };
  const most = wire && largestBreaker(2 * feederAmpacity(wire, phases));
  const large = { value: most ?? 0, unit: 'A', source: limits.breakerOverConductor.source };
  return [
    compare(id, exact(breakerAmps), holds, 'more', () => ({
      says:
        `The feeder's ${amps(breakerAmps)} breaker stands against ${amps(least)} effective of ` +
        `${count(group.byEffective)}.`,
      electrician,
      required: true,
    })),
    advise(id, exact(breakerAmps), trips, 'more', (verdict) => ({
      says:
        `With ${count(burning)} at once it carries ${amps(drawn)}: it ` +
        (verdict === 'adequate' ? 'holds for a long weld.' : 'may trip in a long weld.'),
      electrician: `Never a larger breaker for tripping alone. ${electrician}`,
    })),
    ...(most === undefined || breakerAmps <= most
      ? []
      : [
          advise(id, exact(breakerAmps), large, 'less', () => ({
            says:
              `A ${amps(breakerAmps)} breaker; ${amps(most)} is the most for ` +
              `${gaugeName(wire!)} wire feeding welders.`,
            electrician,
          })),
        ]),
  ];
}

/** What is taken to burn at once: as the shop says, else half of the group and two at the least. */
export function atOnce(
  { atOnce: said }: Feeder,
  { byFull }: Group,
): { burning: readonly Member[]; said: boolean } {
  const usual = Math.max(2, Math.ceil(byFull.length * limits.atOnce.value));
  return { burning: byFull.slice(0, said ?? usual), said: said !== undefined };
}

/**
 * The voltage at the far end, before branch and cords, with several at once. Their currents are
 * added as if all hung between the same two wires, unless every one has three phases: spread over
 * the phases it is less.
 */
export function farEndVolts(of: Feeder, burning: readonly Member[]): Reading | null {
  const { name, volts: U1, phases = 1, conductor: branch } = of;
  if (!hasLength(branch)) return null;
  const three = phases === 3 && burning.every((each) => each.phases === 3);
  const { setting, evidence } = plannedSupply({ name, volts: U1, phases, branch }, three);
  const asked = {
    ...setting,
    plate: null,
    rated: null,
    nominalVolts: U1,
    nominalHertz: null,
    work: null,
  };
  return fullLoadVolts(asked, { U1, I1max: sumOfFull(burning) }, evidence);
}

type Long = FeederConductor & ({ feet: number } | { metres: number });
const hasLength = (wire: FeederConductor | undefined): wire is Long =>
  wire !== undefined && (wire.feet !== undefined || wire.metres !== undefined);

function farEnd({ feeder: of, group }: FeederAsked): Finding[] {
  const { burning, said } = atOnce(of, group);
  const foretold = farEndVolts(of, burning);
  if (foretold === null || !hasLength(of.conductor))
    return [notAsked(id, limits.plateLow, "The feeder's length is not known: no voltage follows.")];
  const needs = Math.max(...burning.map(({ needsVolts }) => needsVolts));
  const limit = { value: needs, unit: 'V', source: limits.plateLow.source };
  const drawn = sumOfFull(burning);
  const why = said ? 'as the shop says' : 'half of them and two at least: common practice';
  const three = of.phases === 3 && burning.every(({ phases }) => phases === 3);
  const byBook = (three ? Math.sqrt(3) : 2) * drawn * runOhms(of.conductor, 'fixed', 75);
  const part = byBook / of.volts;
  return [
    compare(id, foretold, limit, 'more', (verdict) => ({
      says:
        `With ${count(burning)} at once (${why}), ${amps(drawn)}, its far end would have ` +
        `${volts(foretold.value, needs)}` +
        (verdict === 'marginal' ? `, and may have ${volts(foretold.lo, needs)}` : '') +
        `; ${volts(needs, foretold.value)} is needed there, before branch and cords.`,
      electrician: 'Worked out from the wire described: measure before relying on it.',
      required: true,
    })),
    advise(id, exact(part), limits.dropFeeder, 'less', () => ({
      says:
        `Its ${lengthName(of.conductor!)} take ${percent(part)} at ${amps(drawn)}; ` +
        `${percent(limits.dropFeeder.value, 0)} is the usual advice for a feeder.`,
    })),
  ];
}
