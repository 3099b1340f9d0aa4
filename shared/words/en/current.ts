import { figuresWith, type Gauge, type Length } from '../figures.ts';

const { amps, fixed, gauge, given, length, percent } = figuresWith('.');

export interface AmpacityBasis {
  column: number | null;
  method: string | null;
  insulation: string | null;
  loaded: 2 | 3;
  ambient: { celsius: number; factor: number } | null;
  grouped: { circuits: number; factor: number } | null;
}
export interface Breaker {
  breaker: number;
  amps: number;
}
type Part = Breaker & { part: number };
export interface CordLengths {
  share: number | null;
  /** Each size's longest, and of that what keeps to the usual advice for the whole drop. */
  longest: (Gauge & Length & { usual: Length | null })[];
  usual: number;
}

const wires = (loaded: 2 | 3) =>
  loaded === 3 ? 'three loaded conductors' : 'two loaded conductors';
/** The times that standards give: tenths of a second, minutes, hours. */
const within = (seconds: number) =>
  seconds < 1
    ? 'at once'
    : seconds < 3600
      ? `within ${seconds / 60} min at the latest`
      : `within ${seconds / 3600} h at the latest`;

/** What the rules say about what wire, breakers, receptacles and cords may carry. */
export const current = {
  ampacityBy: ({ column, method, insulation, loaded, ambient, grouped }: AmpacityBasis) =>
    (column === null
      ? `Method ${method}, ${insulation}, ${wires(loaded)}`
      : `${column} °C column`) +
    (ambient === null
      ? ''
      : `, × ${fixed(ambient.factor, 2)} for ${given(ambient.celsius)} °C around it`) +
    (grouped === null
      ? ''
      : `, × ${fixed(grouped.factor, 2)} for ${grouped.circuits} circuits together`) +
    (column === 60 ? '; terminals and insulation for 75 °C may allow more.' : '.'),

  breakerStands: ({ breaker, least }: { breaker: number; least: number }) =>
    `The breaker is rated ${amps(breaker)}; the machine draws ${amps(least)} effective.`,
  breakerHolds: ({ breaker, amps: at, seconds }: Breaker & { seconds: number | null }) =>
    `At ${amps(at)} a ${amps(breaker)} breaker ` +
    (seconds === null ? 'is within its rating.' : `must hold for ${seconds / 3600} h from cold.`),
  breakerMay: ({ breaker, amps: at, part }: Part) =>
    `At ${amps(at)}, ${percent(part, 0)} of its rating, a ${amps(breaker)} breaker may trip at ` +
    'any time, or never: no standard says when.',
  breakerWill: ({ breaker, amps: at, part, seconds }: Part & { seconds: number }) =>
    `At ${amps(at)}, ${percent(part, 0)} of its rating, a ${amps(breaker)} breaker will trip if ` +
    `that lasts, ${within(seconds)}; it may trip any time before.`,
  breakersDiffer: () =>
    'Under the same load one good breaker may trip at once, another later and another never; ' +
    'a warm one trips sooner.',
  breakerNoProof: () =>
    'A breaker that holds does not show that wire, cord and receptacle are within their ratings.',
  breakerPeak: (of: { standard: string; type: string | null; peak: number | null }) =>
    of.peak === null
      ? `Taken as a breaker after ${of.standard}, which fixes no peak for its instant trip.`
      : `Taken as a breaker after ${of.standard}` +
        (of.type === null ? ', its type not known' : `, type ${of.type}`) +
        `: a start-up peak over ${amps(of.peak)} may trip it at once.`,
  burstDrew: ({ amps: at, seconds: long }: { amps: number; seconds: number }) =>
    `This weld drew ${amps(at)} for ${fixed(long, long < 10 ? 1 : 0)} s.`,
  supplyLost: ({ amps: at, seconds: after, count }: Record<'amps' | 'seconds' | 'count', number>) =>
    `Supply lost at ${amps(at)} after ${fixed(after, after < 10 ? 1 : 0)} s: the voltage ` +
    'vanished while the machine drew current' +
    `${count > 1 ? `, the last of ${count} times` : ''}.`,
  lostHow: () =>
    'A breaker, a fuse, a plug or the utility: the sensor cannot tell which. Find out before ' +
    'anything is switched on again; let a warm breaker cool first.',
  smallConductor: (of: { breaker: number; most: number; wire: Gauge; alone: boolean }) =>
    `A ${amps(of.breaker)} breaker on ${gauge(of.wire)} is for the circuit of an arc welder ` +
    `alone; for anything else ${amps(of.most)} is the most.` +
    (of.alone ? '' : ' Plug nothing else in there.'),
  receptacleStands: ({ receptacle, least }: { receptacle: number; least: number }) =>
    `The receptacle is rated ${amps(receptacle)}; the machine draws ${amps(least)} effective.`,
  receptacleOver: ({ receptacle, breaker }: { receptacle: number; breaker: number }) =>
    `A ${amps(receptacle)} receptacle behind a ${amps(breaker)} breaker invites loads that the ` +
    'circuit cannot carry.',
  receptacleUnder: (of: { receptacle: number; breaker: number; alone: boolean }) =>
    `A ${amps(of.receptacle)} receptacle behind a ${amps(of.breaker)} breaker is for an arc ` +
    `welder alone.${of.alone ? '' : ' Plug nothing else in there.'}`,
  socketUnder: ({ receptacle, breaker }: { receptacle: number; breaker: number }) =>
    `The ${amps(breaker)} breaker does not protect the ${amps(receptacle)} receptacle behind it.`,
  feederDraws: ({ count, amps: drawn }: { count: number; amps: number }) =>
    `With ${count === 1 ? 'one machine' : `${count} machines`} at once it carries ${amps(drawn)}.`,

  cordCarries: (of: {
    cord: Gauge & Length;
    carries: number;
    least: number;
    full: number;
    loaded: 2 | 3;
  }) =>
    `The ${length(of.cord)} cord of ${gauge(of.cord)} may carry ${amps(of.carries)} ` +
    `(${wires(of.loaded)}); the machine draws ${amps(of.least)} effective, and ` +
    `${amps(of.full)} at full current. Uncoil it fully.`,
  cordFull: ({ enough }: { enough: boolean }) =>
    'Heat follows the effective current. Whether the duty rule may be used for an extension ' +
    'cord is not settled: by full current this one ' +
    (enough ? 'is heavy enough too.' : 'is too light.'),
  cordLengths: ({ share, longest, usual }: CordLengths) =>
    (share === null ? '' : `The cord takes ${percent(share, 0)} of the whole drop. `) +
    (longest.length === 0
      ? 'No cord would pass here.'
      : `Longest that pass: ${longest
          .map((of) => `${gauge(of)} ${length(of)}${shorter(of.usual, usual)}`)
          .join(', ')}.`),
};

function shorter(of: Length | null, usual: number): string {
  if (of === null) return ` (none keeps to ${percent(usual, 0)})`;
  return ` (${length(of)} for ${percent(usual, 0)})`;
}
