import type { Arc, ArcChannel } from '../protocol/judgement.ts';
import type { Plate } from '../protocol/plate.ts';
import { loopVolts } from '../protocol/service.ts';
import type { Amperes, Volts } from '../units.ts';
import { arrangementOf, type ServiceSeen } from './arrangement.ts';
import type { Setting } from './facts.ts';
import { loopLimits as cuts } from './limits.ts';

/** Where a machine hangs: part of a setting. */
export type Hanging = Pick<Setting, 'loops' | 'ampsPerLine' | 'service'>;

/** What is known of the machine's place before its loops are: who it is, and what was measured. */
export interface Placed {
  plate: Plate | null;
  pairs: number;
  /** Between the machine's terminals, as the circuit is described; null where nobody said. */
  describedVolts: Volts | null;
}

/** Figures of an arc that say where the machine hangs: measured pairs, and between them. */
export type ArcSeen = Pick<Arc, 'channels' | 'between'>;

/** Entries of a row as one list. */
export const entriesOf = ({ channels, between = [] }: ArcSeen): ArcChannel[] => [
  ...channels,
  ...between,
];

/** The arc's figures between the machine's terminals; empty where they were not kept. */
export function loopChannels({ loops }: Pick<Setting, 'loops'>, arc: ArcSeen): ArcChannel[] {
  const all = entriesOf(arc);
  const found = loops.map((loop) => all[loop]);
  return found.every((each) => each !== undefined) ? found : [];
}

/**
 * Volts of every loop from those of the pairs alone, where no angle was measured: two legs are
 * taken to add up, phases to stand apart by √3, unless the machine's service was seen.
 */
export function readingVolts({ loops, pairs, service }: Setting, volts: readonly Volts[]): Volts[] {
  if (service !== null) return loopVolts({ loops, volts: service.volts }, volts);
  const [one = 0, other = 0] = volts;
  const between = pairs === 2 ? one + other : Math.min(...volts) * Math.sqrt(3);
  return loops.map((loop) => (loop < pairs ? volts[loop]! : between));
}

/** Wires whose ohms a loop's current meets: both of a pair's, one where lines are subtracted. */
export const wiresInLoop = ({ ampsPerLine }: Pick<Setting, 'ampsPerLine'>): 1 | 2 =>
  ampsPerLine > 1.5 ? 1 : 2;

/**
 * What the machine hangs between. The lines that an arc's current flowed through say so by
 * themselves; before that, whatever has a voltage near the plate's, or near what the circuit is
 * described as. Where several fit, all of them are the machine's until a current tells.
 */
export function hangingOf(
  placed: Placed,
  volts: readonly Volts[] | null,
  carries: readonly number[] | null,
): Hanging {
  const { pairs, plate } = placed;
  if (volts === null)
    return { loops: unseenLoops(placed), ampsPerLine: unseen(placed), service: null };
  const direct = isLineToLine(placed, volts);
  const service: ServiceSeen = { arrangement: arrangementOf(volts, direct), volts };
  if (plate?.phases === 3 && pairs > 1) return { ...threePhase(pairs, direct), service };
  const loops = carries ?? fitting(placed, volts);
  return { loops, ampsPerLine: ampsPerLine(pairs, loops), service };
}

/** A line's current goes into i1 − i2 twice where it comes back on the other line. */
const ampsPerLine = (pairs: number, loops: readonly number[]): number =>
  pairs === 3 && loops.some((loop) => loop >= pairs) ? 2 : 1;

function threePhase(pairs: number, direct: boolean): Omit<Hanging, 'service'> {
  if (pairs === 2) return { loops: [2], ampsPerLine: Math.sqrt(3) / 2 };
  return direct
    ? { loops: [0, 1, 2], ampsPerLine: 1 }
    : { loops: [3, 4, 5], ampsPerLine: Math.sqrt(3) };
}

/** Nothing was measured yet: every pair by itself, or the lines of a three-phase machine. */
const unseenLoops = ({ plate, pairs }: Placed): number[] =>
  plate?.phases === 3 && pairs === 3 ? [3, 4, 5] : Array.from({ length: pairs }, (_, pair) => pair);
const unseen = ({ plate, pairs }: Placed): number =>
  plate?.phases === 3 && pairs === 3 ? Math.sqrt(3) : 1;

const off = (volts: Volts, from: Volts): number =>
  volts > 0 && from > 0 ? Math.abs(Math.log(volts / from)) : Number.POSITIVE_INFINITY;

const nearest = (volts: Volts, candidates: readonly Volts[]): number =>
  Math.min(...candidates.map((each) => off(volts, each)));

/** Entries whose voltage is the nearest to the plate's, then to the description's. */
function fitting({ plate, pairs, describedVolts }: Placed, volts: readonly Volts[]): number[] {
  const plated = plate?.supply.map(({ U1 }) => U1) ?? [];
  const described = describedVolts === null ? [] : [describedVolts];
  if (plated.length + described.length === 0)
    return Array.from({ length: pairs }, (_, pair) => pair);
  let left = volts.map((_, entry) => entry);
  for (const expected of [plated, described]) {
    if (expected.length === 0) continue;
    const misses = left.map((entry) => nearest(volts[entry]!, expected));
    const best = Math.min(...misses);
    left = left.filter((_, at) => misses[at]! <= best + cuts.sameVolts.value);
  }
  return left;
}

/**
 * Three voltages of a three-phase machine that were measured from line to line: theirs fit the
 * plate, or what is described, and √3 times theirs do not.
 */
function isLineToLine({ plate, pairs, describedVolts }: Placed, volts: readonly Volts[]): boolean {
  if (pairs !== 3) return false;
  const plated = plate?.phases === 3 ? plate.supply.map(({ U1 }) => U1) : [];
  const expected = describedVolts === null ? plated : [describedVolts];
  if (expected.length === 0) return false;
  if (sumOf(volts) > cuts.lineSum.value * Math.max(...volts.slice(0, 3))) return false;
  const own = nearest(Math.max(...volts.slice(0, 3)), expected);
  const between = nearest(Math.max(...volts.slice(3)), expected);
  return own < cuts.sameVolts.value && between > 2 * cuts.sameVolts.value;
}

/** R.m.s. of v1 + v2 + v3, from the pairs' own and those between them. */
function sumOf(volts: readonly Volts[]): Volts {
  const squares = (of: readonly Volts[]) => of.reduce((sum, each) => sum + each * each, 0);
  return Math.sqrt(Math.max(0, 3 * squares(volts.slice(0, 3)) - squares(volts.slice(3))));
}

/**
 * Entries that an arc's current flowed through, from what each drew more than idle: one pair, or
 * two lines there and back. Null where the currents say neither. Squares, since currents of other
 * loads are not in step with the arc's.
 */
export function carriersOf(arc: ArcSeen, pairs: number): number[] | null {
  if (pairs === 1) return [0];
  const drawn = entriesOf(arc).map(({ meanAmps, idleAmps }) => risen(meanAmps, idleAmps ?? 0));
  const most = Math.max(...drawn.slice(0, pairs));
  if (drawn.length <= pairs || most < cuts.leastAmps.value ** 2) return null;
  const lines = drawn.slice(0, pairs);
  const busy = lines.flatMap((each, pair) => (each > cuts.idleShare.value * most ? [pair] : []));
  if (busy.length === 1) return busy;
  if (busy.length !== 2) return null;
  const between = pairs + (pairs === 2 ? 0 : { '0,1': 0, '1,2': 1, '0,2': 2 }[busy.join()]!);
  const whole = drawn[between]! / (pairs === 2 ? 1 : 4);
  // (i1 + i2)/2, what does not come back on the other line.
  const common = (lines[busy[0]!]! + lines[busy[1]!]!) / 2 - whole;
  return Math.abs(common) < cuts.idleShare.value * whole ? [between] : null;
}

const risen = (amps: Amperes, idle: Amperes): number => Math.max(0, amps * amps - idle * idle);
