import type { Finding } from '../protocol/judgement.ts';
import { isBroken } from '../protocol/verdicts.ts';
import type {
  ArcEvidence,
  Rule,
  SensorChannel,
  SensorEvidence,
  SensorPair,
  Setting,
} from './facts.ts';
import { state } from './finding.ts';
import { type Limit, limits } from './limits.ts';
import { type Said, saidBy, say, sayAll } from './say.ts';

const id = 'sensor';

type Asked = Setting & {
  sensor: SensorEvidence | null;
  openVolts: number | null;
  /** Null where a whole recording is asked about: what its arcs show was asked of each. */
  arc: ArcEvidence | null;
};

/**
 * Nothing stands on a sensor that lies: each doubt is `unproven`, required, with what to do. What
 * it doubts is in no other finding's favour either (`doubted`).
 */
export const sensor: Rule<Asked> = {
  id,
  asks:
    'clipping, repeated samples, two channels alike, reversed or mixed-up current sensors, ' +
    'amperes and volts that cannot be',
  required: 'when it doubts',
  limits: [
    limits.clippedCrests,
    limits.heldSamples,
    limits.overPlate,
    limits.overBreaker,
    limits.currentAngle,
    limits.noClass,
    limits.offset,
    limits.lopsided,
  ],
  ask(asked) {
    const { sensor: seen, arc } = asked;
    if (seen === null) return [];
    const atS: [number, number] | null = arc === null ? null : [arc.startS, arc.endS];
    const doubts = [
      ...seen.pairs.flatMap(({ volts, amps }, at) => samplesOf(volts, amps, at + 1)),
      ...withoutVolts(asked, seen),
      ...alike(seen),
      ...turned(seen.pairs),
      ...impossibleAmps(asked),
      ...noSuchClass(asked.openVolts),
    ].map(({ limit, ...words }) =>
      state(id, 'unproven', { ...words, atS, required: true }, limit.source, limit.unit),
    );
    if (doubts.length > 0) return doubts;
    const advice = seen.pairs.flatMap((pair, at) => oddities(pair, at + 1));
    return advice.length > 0 ? advice : [state(id, 'adequate', say('sensorPassed'))];
  },
};

/** What a doubt says, and the limit that it stands on. */
type Doubt = Said & { limit: Limit };
const doubt = (limit: Limit, words: Said): Doubt => ({ ...words, limit });

function samplesOf(volts: SensorChannel, amps: SensorChannel, pair: number): Doubt[] {
  const clipped = limits.clippedCrests.value;
  const { heldSamples } = limits;
  const held = Math.max(volts.heldSeconds, stillVolts(volts));
  const heldAmps = stillAmps(amps);
  return [
    ...(volts.clipped >= clipped
      ? [doubt(limits.clippedCrests, say('clippedVolts', { pair }))]
      : []),
    ...(amps.clipped >= clipped ? [doubt(limits.clippedCrests, say('clippedAmps', { pair }))] : []),
    ...(held > 0 ? [doubt(heldSamples, say('heldVolts', { pair, seconds: held }))] : []),
    ...(heldAmps > 0 ? [doubt(heldSamples, say('heldAmps', { pair, seconds: heldAmps }))] : []),
    ...(Math.abs(volts.offsetShare) > limits.offset.value
      ? [doubt(limits.offset, say('offsetVolts', { pair, part: Math.abs(volts.offsetShare) }))]
      : []),
  ];
}

/** A square wave, the flattest voltage there is, stands for half a cycle: 10 ms of 50 Hz. */
const longestFlat = 0.012;
const leastVolts = 30;
/** A current may rest at a converter's offset; one of a machine that works does not. */
const leastAmps = 1;

const stillVolts = ({ stillSeconds, stillAt }: SensorChannel): number =>
  Math.abs(stillAt) >= leastVolts && stillSeconds >= longestFlat ? stillSeconds : 0;

/** More than two cycles of 50 Hz. */
const stillAmps = ({ stillSeconds, stillAt }: SensorChannel): number =>
  Math.abs(stillAt) >= leastAmps && stillSeconds > limits.heldSamples.value ? stillSeconds : 0;

/** The grounded line of a delta has no voltage to ground, and carries the machine's current. */
function withoutVolts({ service }: Asked, { pairs }: SensorEvidence): Doubt[] {
  if (service?.arrangement === 'corner-grounded') return [];
  return pairs.flatMap(({ deadSeconds }, at) =>
    deadSeconds > limits.heldSamples.value
      ? [doubt(limits.heldSamples, say('ampsWithoutVolts', { pair: at + 1 }))]
      : [],
  );
}

function alike({ same }: SensorEvidence): Doubt[] {
  if (same === null) return [];
  const [one, other] = same.map(nameOf);
  return [doubt(limits.heldSamples, say('channelsAlike', { one: one!, other: other! }))];
}

/** v1, i1, v2, …, as the columns of a recording are called. */
const nameOf = (channel: number): string =>
  `${channel % 2 === 0 ? 'v' : 'i'}${Math.floor(channel / 2) + 1}`;

/**
 * Degrees by which each pair's current lies off its voltage. A load takes power: alone within a
 * right angle. Between two hot legs of a wye, or with a high leg, a leg's own angle is 30 or 60
 * degrees more, and only all of them together take power.
 */
function turned(pairs: readonly SensorPair[]): Doubt[] {
  const sizes = pairs.map(({ watts, vars }) => Math.hypot(watts, vars));
  const largest = Math.max(...sizes);
  if (!(largest > 0)) return [];
  const most = pairs.length === 1 ? limits.currentAngle.value : limits.legAngle.value;
  const off = pairs.flatMap(({ watts, vars }, at) => {
    const behind = (Math.atan2(vars, watts) * 180) / Math.PI;
    const degrees = Math.abs(behind);
    if (sizes[at]! < smallShare * largest || degrees <= most) return [];
    return [{ pair: at + 1, degrees, reversed: isReversed(behind) }];
  });
  const reversed = off.filter((each) => each.reversed);
  const mixed = off.filter((each) => !each.reversed);
  const doubts = [
    ...reversed.map(({ pair }) => doubt(limits.reversedAngle, say('sensorReversed', { pair }))),
    ...mixed.map(({ pair, degrees }) =>
      doubt(limits.legAngle, say('legsMixed', { pair, degrees })),
    ),
  ];
  if (doubts.length > 0) return doubts;
  const watts = pairs.reduce((sum, pair) => sum + pair.watts, 0);
  const voltAmps = sizes.reduce((sum, size) => sum + size, 0);
  if (watts >= leastPower * voltAmps) return [];
  const degrees = (Math.acos(watts / voltAmps) * 180) / Math.PI;
  return [doubt(limits.currentAngle, say('legsMixed', { pair: 1, degrees }))];
}

/** A load's angle, turned round: 20 degrees ahead to 50 behind, half a turn on. */
function isReversed(behind: number): boolean {
  const turn = (behind + 360) % 360;
  const { reversedAngle, reversedAngleMost } = limits;
  return turn >= reversedAngle.value && turn <= reversedAngleMost.value;
}

/** A pair that carries less than this part of the largest has no angle worth the name. */
const smallShare = 0.1;
/** Power of all pairs over their volt-amperes: what an arc has at the least, cosine of 75°. */
const leastPower = Math.cos((limits.currentAngle.value * Math.PI) / 180);

function impossibleAmps({ arc, rated, circuit, openVolts }: Asked): Doubt[] {
  if (arc === null) return [];
  const durationS = arc.endS - arc.startS;
  const most = Math.max(...arc.channels.map((each) => each.maxAmps200ms));
  const mean = Math.max(...arc.channels.map((each) => each.meanAmps));
  const { overPlate, overPlateLasting, overBreaker } = limits;
  if (rated !== null && durationS >= plateSeconds) {
    // A machine of constant power draws more where the voltage is low.
    const low = openVolts === null ? 1 : Math.max(1, rated.U1 / openVolts);
    const words = (amps: number) => say('overPlate', { amps, plate: rated.I1max });
    if (most > overPlate.value * rated.I1max * low) return [doubt(overPlate, words(most))];
    const lasts = durationS >= lastingSeconds;
    if (lasts && mean > overPlateLasting.value * rated.I1max * low)
      return [doubt(overPlateLasting, words(mean))];
  }
  const breaker = circuit?.breakerAmps;
  if (breaker !== undefined && most > overBreaker.value * breaker)
    return [doubt(overBreaker, say('overBreaker', { amps: most, breaker }))];
  return [];
}

/** A hot start is over by then; a shorter arc has no 200 ms to be held against the plate. */
const plateSeconds = 0.2;
const lastingSeconds = 1;

function noSuchClass(openVolts: number | null): Doubt[] {
  if (openVolts === null || openVolts < leastVolts) return [];
  const { noClass, noClassHigh } = limits;
  if (openVolts >= noClass.value && openVolts <= noClassHigh.value) return [];
  return [doubt(noClass, say('noSuchClass', { volts: openVolts }))];
}

/** Worth a look, and no reason to disbelieve a verdict. */
function oddities({ amps, lopsided }: SensorPair, pair: number): Finding[] {
  const part = Math.abs(amps.offsetShare);
  const uneven = lopsided !== null && lopsided > limits.lopsided.value;
  return [
    ...(uneven ? [say('halvesDiffer', { pair, part: lopsided })] : []),
    ...(part > limits.offset.value ? [say('offsetAmps', { pair, part })] : []),
  ].map((words) => state(id, 'marginal', words));
}

/**
 * Findings beside a doubted sensor: what a required rule found on its readings is proved by
 * nothing, good or bad. `unsuited` stays: whoever might plug in is warned all the same.
 */
export function doubted(findings: readonly Finding[]): Finding[] {
  const isDoubt = ({ rule, verdict, required }: Finding) =>
    rule === id && verdict === 'unproven' && required;
  const doubts = findings.filter(isDoubt);
  if (doubts.length === 0) return [...findings];
  // Of one input that is recorded twice nothing between two wires is known.
  const alike = doubts.some(({ saying }) => saying?.name === 'channelsAlike');
  return [
    ...doubts,
    ...findings.filter((finding) => !isDoubt(finding)).map((finding) => unproved(finding, alike)),
  ];
}

function unproved(finding: Finding, unsuitedToo: boolean): Finding {
  const { verdict, required } = finding;
  const holds = required || isBroken(verdict);
  if (!holds || verdict === 'unproven') return finding;
  if (verdict === 'unsuited' && !unsuitedToo) return finding;
  return {
    ...finding,
    verdict: 'unproven',
    ...sayAll(saidBy(finding), say('sensorInDoubt')),
  };
}
