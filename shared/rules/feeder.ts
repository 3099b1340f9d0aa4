import type { Feeder, FeederConductor } from '../protocol/feeder.ts';
import type { Finding } from '../protocol/judgement.ts';
import type { Amperes } from '../units.ts';
import { branchAmpacity, type Loaded } from './ampacity.ts';
import { breakerKind, breakerZone, holdingLimit } from './breaker.ts';
import { breakerWords } from './breaker-words.ts';
import type { Rule } from './facts.ts';
import type { Group, Member } from './feeder-group.ts';
import { advise, compare, notAsked, type Reading } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { limits } from './limits.ts';
import { plannedSupply } from './planned-supply.ts';
import { say, sayAll } from './say.ts';
import { groupAmpacity, largestBreaker } from './welder-ampacity.ts';
import { gaugeOf, runOf, runOhms } from './wire.ts';

const id = 'feeder';
const electrician = say('electricianDecides');
const exact = (value: number): Reading => ({ value, lo: value, hi: value });

/** A feeder of three phases is loaded on all of them. */
export const loadedOf = (phases: 1 | 3): Loaded => (phases === 3 ? 3 : 2);

export interface FeederAsked {
  feeder: Feeder;
  group: Group;
  /** Of the mains, as its circuits say it; left out where none does. */
  hertz?: 50 | 60 | undefined;
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
    limits.breakerUl,
    limits.breakerIec,
    limits.breakerIndustrial,
    limits.breakerOverConductor,
    limits.plateLow,
    limits.dropFeeder,
    limits.atOnce,
  ],
  ask(asked) {
    if (asked.group.byFull.length === 0)
      return [notAsked(id, limits.groupAmps, say('feederNoMachine'))];
    const findings = [...conductor(asked), ...breaker(asked), ...farEnd(asked)];
    if (findings.length > 0) return findings;
    return [notAsked(id, limits.groupAmps, say('feederNotDescribed'))];
  },
};

/** Effective amperes that a group asks of its feeder. */
export const groupAmps = ({ byEffective }: Group): Amperes =>
  groupAmpacity(byEffective.map(({ effectiveAmps }) => effectiveAmps));

export const sumOfFull = (members: readonly Member[]): Amperes =>
  members.reduce((sum, { fullAmps }) => sum + fullAmps, 0);

function conductor({ feeder: { conductor, phases = 1 }, group }: FeederAsked): Finding[] {
  if (!conductor) return [];
  const carries = branchAmpacity(conductor, loadedOf(phases));
  const least = groupAmps(group);
  const full = sumOfFull(group.byFull);
  const wire = { wire: gaugeOf(conductor), metal: conductor.metal ?? ('copper' as const) };
  const source =
    conductor.mm2 === undefined
      ? limits.groupAmps.source
      : `${limits.groupAmps.source}; ${limits.ampacityMetric.source}`;
  const byDuty = { value: least, unit: 'A', source };
  return [
    compare(id, exact(carries), byDuty, 'more', () => ({
      ...say('feederCarries', { ...wire, carries, least, count: group.byEffective.length }),
      electrician: say('feederShares'),
      required: true,
    })),
    advise(
      id,
      exact(carries),
      { value: full, unit: 'A', source: limits.groupFull.source },
      'more',
      (verdict) => ({
        ...say('feederFull', { ...wire, amps: full, carries, good: verdict === 'adequate' }),
        electrician: say('feederStricter'),
      }),
    ),
  ];
}

function breaker({ feeder: of, group, hertz }: FeederAsked): Finding[] {
  const { breakerAmps, conductor: wire, phases = 1 } = of;
  if (breakerAmps === undefined) return [];
  const least = groupAmps(group);
  const { burning } = atOnce(of, group);
  const drawn = sumOfFull(burning);
  const holds = { value: least, unit: 'A', source: limits.groupAmps.source };
  const mains = { volts: of.volts, ...(hertz ? { hertz } : {}) };
  const kind = breakerKind({ ...mains, ...(wire ? { branch: wire } : {}) }, breakerAmps);
  const limit = holdingLimit(kind);
  const lasts = { value: drawn / limit.value, unit: 'A', source: limit.source };
  const most = wire && largestBreaker(2 * branchAmpacity(wire, loadedOf(phases)));
  const large = { value: most ?? 0, unit: 'A', source: limits.breakerOverConductor.source };
  return [
    compare(id, exact(breakerAmps), holds, 'more', () => ({
      ...say('feederBreaker', {
        ...{ breaker: breakerAmps, least, count: group.byEffective.length },
      }),
      electrician,
      required: true,
    })),
    advise(id, exact(breakerAmps), lasts, 'more', () => {
      const { electrician: told, ...said } = breakerWords(breakerZone(drawn, kind), kind, drawn);
      return {
        ...sayAll(say('feederDraws', { count: burning.length, amps: drawn }), said),
        electrician: told,
      };
    }),
    ...(most === undefined || breakerAmps <= most
      ? []
      : [
          advise(id, exact(breakerAmps), large, 'less', () => ({
            ...say('feederBreakerLarge', { breaker: breakerAmps, most, wire: gaugeOf(wire!) }),
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
export function farEndVolts(
  { feeder: of, hertz }: Pick<FeederAsked, 'feeder' | 'hertz'>,
  burning: readonly Member[],
): Reading | null {
  const { name, volts: U1, phases = 1, conductor: branch } = of;
  if (!hasLength(branch)) return null;
  const three = phases === 3 && burning.every((each) => each.phases === 3);
  const run = { name, volts: U1, phases, branch, ...(hertz === undefined ? {} : { hertz }) };
  const { setting, evidence } = plannedSupply(run, three);
  const asked = {
    ...setting,
    plate: null,
    rated: null,
    nominalVolts: U1,
    nominalHertz: hertz ?? null,
    work: null,
  };
  return fullLoadVolts(asked, { U1, I1max: sumOfFull(burning) }, evidence);
}

type Long = FeederConductor & ({ feet: number } | { metres: number });
const hasLength = (wire: FeederConductor | undefined): wire is Long =>
  wire !== undefined && (wire.feet !== undefined || wire.metres !== undefined);

function farEnd({ feeder: of, group, hertz }: FeederAsked): Finding[] {
  const { burning, said } = atOnce(of, group);
  const foretold = farEndVolts({ feeder: of, hertz }, burning);
  if (foretold === null || !hasLength(of.conductor))
    return [notAsked(id, limits.plateLow, say('feederNoLength'))];
  const needs = Math.max(...burning.map(({ needsVolts }) => needsVolts));
  const limit = { value: needs, unit: 'V', source: limits.plateLow.source };
  const drawn = sumOfFull(burning);
  const three = of.phases === 3 && burning.every(({ phases }) => phases === 3);
  const byBook = (three ? Math.sqrt(3) : 2) * drawn * runOhms(of.conductor, 'fixed', 75);
  const part = byBook / of.volts;
  return [
    compare(id, foretold, limit, 'more', (verdict) => ({
      ...say('feederEnd', {
        ...{ count: burning.length, said, amps: drawn, value: foretold.value, needs },
        low: verdict === 'marginal' ? foretold.lo : null,
      }),
      electrician: say('feederMeasure'),
      required: true,
    })),
    advise(id, exact(part), limits.dropFeeder, 'less', () =>
      say('feederDrop', {
        ...{ run: runOf(of.conductor!), part, amps: drawn, usual: limits.dropFeeder.value },
      }),
    ),
  ];
}
