import type { Circuit } from '../protocol/circuit.ts';
import type { Amperes, Seconds } from '../units.ts';
import { type Limit, limits } from './limits.ts';
import { isMetricWiring } from './wiring-code.ts';

export type BreakerStandard = 'UL 489' | 'IEC 60898-1' | 'IEC 60947-2';
/** A breaker, and the standard that it is taken to be made to. */
export interface BreakerKind {
  ratedAmps: Amperes;
  standard: BreakerStandard;
  /** Of IEC 60898-1; null where nobody said. */
  type: 'B' | 'C' | 'D' | null;
}

/**
 * What a standard promises of a lasting current: `holds`, not tripping; `may`, nothing, so the
 * breaker may trip at any time or never; `will`, tripping within a time at the latest.
 */
export interface BreakerZone {
  zone: 'holds' | 'may' | 'will';
  /** Of `will`: at the latest. Of `holds`: as long as the standard asks; null for as long as it is
   * loaded. Null for `may`: no standard names a time. */
  seconds: Seconds | null;
}

const hour: Seconds = 3600;
const minute: Seconds = 60;
/** Above this rating the small breakers of IEC 60898-1 end and those of IEC 60947-2 begin. */
const mostSmall: Amperes = 125;
const rounding = 1e-9;

/** By its type, else by the world of the wire: metric or American. */
export function breakerKind(
  circuit: Parameters<typeof isMetricWiring>[0] & Pick<Circuit, 'breakerType'>,
  ratedAmps: Amperes,
): BreakerKind {
  const type = circuit.breakerType ?? null;
  if (type === null && !isMetricWiring(circuit)) return { ratedAmps, standard: 'UL 489', type };
  return { ratedAmps, standard: ratedAmps > mostSmall ? 'IEC 60947-2' : 'IEC 60898-1', type };
}

/** The multiple of its rating up to which a breaker must hold. */
export const holdingLimit = ({ standard }: Pick<BreakerKind, 'standard'>): Limit =>
  ({
    'UL 489': limits.breakerUl,
    'IEC 60898-1': limits.breakerIec,
    'IEC 60947-2': limits.breakerIndustrial,
  })[standard];

/**
 * Of a current that lasts: of a burst its own r.m.s., never the mean of ten minutes, which a warm
 * breaker does not know. Between a standard's points nothing is promised but that more current
 * trips no later, so the nearest point below rules.
 */
export function breakerZone(amps: Amperes, kind: BreakerKind): BreakerZone {
  const multiple = amps / kind.ratedAmps;
  const reached = tripPoints(kind).filter(([from]) => multiple >= from - rounding);
  const last = reached.at(-1);
  if (last) return { zone: 'will', seconds: last[1] };
  if (multiple > holdingLimit(kind).value + rounding) return { zone: 'may', seconds: null };
  return { zone: 'holds', seconds: kind.standard === 'UL 489' ? null : conventionalTime(kind) };
}

/** Multiples of the rating at which a breaker must trip, lowest first, and within what time. */
function tripPoints(kind: BreakerKind): [multiple: number, withinS: Seconds][] {
  const { ratedAmps: rated, standard, type } = kind;
  if (standard === 'IEC 60947-2') return [[1.3, conventionalTime(kind)]];
  if (standard === 'IEC 60898-1')
    return [
      [1.45, conventionalTime(kind)],
      [2.55, (rated <= 32 ? 1 : 2) * minute],
      // Nobody said which type it is: only what the slowest must do is sure.
      [peaks[type ?? 'D'][1], 0.1],
    ];
  const points: [number, Seconds][] = [[1.35, (rated <= 50 ? 1 : 2) * hour]];
  const twice = twiceMinutes.find(([most]) => rated <= most);
  if (twice) points.push([2, twice[1] * minute]);
  return points;
}

/** Conventional time of both IEC standards: 1 h up to 63 A, 2 h above. */
const conventionalTime = ({ ratedAmps }: BreakerKind): Seconds => (ratedAmps <= 63 ? 1 : 2) * hour;

/**
 * Minutes at twice the rating, UL 489, up to a rating: 30 A found, the rest from memory. Over
 * 225 A nothing was found.
 */
const twiceMinutes: readonly (readonly [mostAmps: Amperes, minutes: number])[] = [
  [30, 2],
  [50, 4],
  [100, 6],
  [150, 8],
  [225, 10],
];

/** Multiples over which a peak may, and from which it must, trip at once: IEC 60898-1. */
const peaks = { B: [3, 5], C: [5, 10], D: [10, 20] } as const;

/**
 * R.m.s. over which a start-up peak may trip at once, by the type or where none is known by the
 * most easily tripped one; null where no standard fixes it.
 */
export function peakAmps({ ratedAmps, standard, type }: BreakerKind): Amperes | null {
  return standard === 'IEC 60898-1' ? peaks[type ?? 'B'][0] * ratedAmps : null;
}
