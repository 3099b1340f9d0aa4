import { type RmsEvent, RmsEvents } from '../../shared/metrology/rms-events.ts';
import { type Row, rowsOf } from './core-signals.ts';

/*
 * Our own suite, grounded in the requirements of IEC 61000-4-30 as STANDARDS cites them; the test
 * points of IEC 62586-2 were not seen, and no conformity is claimed. Every expectation is analytic.
 */
export const rateHz = 10_240;

/** A supply as a function of time, so that a truth can be integrated as finely as one likes. */
export type Signal = (t: number) => number;

export function sampled(signals: readonly Signal[], seconds: number): Float64Array[] {
  const length = Math.round(seconds * rateHz);
  return signals.flatMap((signal) => [
    Float64Array.from({ length }, (_, k) => signal(k / rateHz)),
    new Float64Array(length),
  ]);
}

interface Interval {
  start: number;
  end: number;
  volts: number[];
}

/** 10/12-cycle values: the root of the mean of the squares over half cycles that do not overlap. */
export function intervalsOf(rows: readonly Row[], halves: number): Interval[] {
  const intervals: Interval[] = [];
  for (let n = 0; n + halves <= rows.length; n += halves) {
    const part = rows.slice(n, n + halves);
    const start = part[0]!.middle;
    const end = part.at(-1)!.end;
    const volts = part[0]!.uhalf.length;
    const squares = Array.from({ length: volts }, (_, pair) =>
      part.reduce((sum, row) => sum + row.uhalf[pair]! ** 2 * (row.end - row.middle), 0),
    );
    intervals.push({
      start,
      end,
      volts: squares.map((square) => Math.sqrt(square / (end - start))),
    });
  }
  return intervals;
}

/** ∫ sin² over an angle from 0. */
const sineSquare = (angle: number) => angle / 2 - Math.sin(2 * angle) / 4;

/** Cycles of the steps as the samples show them: half way between the last before and the next. */
export function asSampled(
  levelAt: readonly (readonly [cycle: number, level: number])[],
  f: number,
) {
  const cycle = rateHz / f;
  return levelAt.map(([at, level]): [number, number] => [
    at === 0 ? 0 : (Math.ceil(at * cycle - 1e-6) - 0.5) / cycle,
    level,
  ]);
}

/** Urms(1/2) of windows that begin at zero crossing n/2, for an amplitude that steps at a cycle. */
export function stepped(
  n: number,
  levelAt: readonly (readonly [cycle: number, level: number])[],
): number {
  const from = n / 2;
  const to = from + 1;
  let sum = 0;
  levelAt.forEach(([cycle, level], k) => {
    const a = Math.min(to, Math.max(from, k === 0 ? Number.NEGATIVE_INFINITY : cycle));
    const b = Math.min(to, Math.max(from, levelAt[k + 1]?.[0] ?? Number.POSITIVE_INFINITY));
    sum += level ** 2 * (sineSquare(2 * Math.PI * b) - sineSquare(2 * Math.PI * a));
  });
  return Math.sqrt(sum / Math.PI);
}

/** Rows of a sine of r.m.s. 1 at cycle 0's zero crossing, whose level steps at given cycles. */
export function steppedRows(
  f: number,
  levelAt: readonly (readonly [number, number])[],
  seconds: number,
) {
  const signal = (t: number) => {
    const cycle = f * t;
    let level = levelAt[0]![1];
    for (const [at, next] of levelAt.slice(1)) if (cycle >= at - 1e-9) level = next;
    return Math.SQRT2 * level * Math.sin(2 * Math.PI * cycle);
  };
  return rowsOf(sampled([signal], seconds), { rateHz });
}

export function eventsOf(rows: readonly Row[], declaredVolts: number): RmsEvent[] {
  const events: RmsEvent[] = [];
  const pairs = rows[0]!.urms.length;
  const meter = new RmsEvents(
    { rateHz, pairs, declaredVolts },
    { ended: (event) => events.push(event) },
  );
  for (const row of rows) meter.halfCycle(row);
  meter.end();
  return events;
}
