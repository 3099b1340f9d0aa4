import { expect, test } from 'vitest';
import { ArcDetector } from '../../shared/metrology/arc-detector.ts';
import { LineToLine, linesOf, rowWidth } from '../../shared/metrology/line-to-line.ts';
import { Meter } from '../../shared/metrology/meter.ts';
import type { HalfCycleRow } from '../../shared/metrology/row.ts';

const rateHz = 10_240;

/** v1, i1, v2, … of sines, r.m.s. and degrees a channel. */
function sines(seconds: number, hertz: number, ...each: [size: number, degrees: number][]) {
  return each.map(([size, degrees]) =>
    Float64Array.from({ length: Math.round(seconds * rateHz) }, (_, n) => {
      const angle = (2 * Math.PI * hertz * n) / rateHz + (degrees * Math.PI) / 180;
      return Math.SQRT2 * size * Math.cos(angle);
    }),
  );
}

function rowsOf(columns: readonly Float64Array[], blockFrames: number): HalfCycleRow[] {
  const pairs = columns.length / 2;
  const between = new LineToLine(pairs, blockFrames);
  const rows: HalfCycleRow[] = [];
  const meter = new Meter(
    { rateHz, pairs, between: rowWidth(pairs) - pairs, nominalHertz: 60, phasors: true },
    { halfCycle: (row) => rows.push(structuredClone(row)) },
  );
  for (let at = 0; at < columns[0]!.length; at += blockFrames) {
    const block = columns.map((column) => column.subarray(at, at + blockFrames));
    meter.push(between.take(block, block[0]!.length), block[0]!.length);
  }
  meter.end();
  return rows;
}

test('two legs: the difference of the volts, half that of the amperes', () => {
  const legs = sines(0.6, 60, [120, 0], [20, -15], [114, -120], [20, 165]);
  for (const row of rowsOf(legs, 1_000).slice(2)) {
    expect(row.urms).toHaveLength(3);
    // By hand: √(120² + 114² + 120 · 114) = 202.7 V.
    expect(row.urms[2]).toBeCloseTo(202.67, 1);
    expect(row.irms[2]).toBeCloseTo(20, 2);
    // There and back: the loop takes what both pairs take together.
    expect(row.watts[2]! / (row.watts[0]! + row.watts[1]!)).toBeCloseTo(1, 4);
    expect(Math.hypot(row.u1re[2]!, row.u1im[2]!)).toBeCloseTo(202.67, 1);
  }
});

test('three phases: √3 times the volts and the amperes, in turn', () => {
  const load = sines(0.6, 60, ...phases(120, 15));
  for (const row of rowsOf(load, 512).slice(2)) {
    for (const entry of [3, 4, 5]) {
      expect(row.urms[entry]! / (120 * Math.sqrt(3))).toBeCloseTo(1, 4);
      expect(row.irms[entry]! / (15 * Math.sqrt(3))).toBeCloseTo(1, 4);
    }
  }
});

/** Phases 120° apart with a current 20° behind each. */
const phases = (volts: number, amps: number): [number, number][] =>
  [0, -120, 120].flatMap((angle): [number, number][] => [
    [volts, angle],
    [amps, angle - 20],
  ]);

test('where the blocks are cut changes nothing, bit for bit', () => {
  const load = sines(0.5, 59.9, ...phases(118, 12));
  const [one, other] = [rowsOf(load, 4_096), rowsOf(load, 333)];
  expect(other).toEqual(one);
});

test('measured pairs read what they read without those between', () => {
  const load = sines(0.5, 60.1, ...phases(121, 9));
  const alone: HalfCycleRow[] = [];
  const meter = new Meter(
    { rateHz, pairs: 3, nominalHertz: 60, phasors: true },
    { halfCycle: (row) => alone.push(structuredClone(row)) },
  );
  meter.push(load, load[0]!.length);
  meter.end();
  const beside = rowsOf(load, 8_192);
  expect(beside).toHaveLength(alone.length);
  for (const [n, row] of beside.entries()) {
    expect(row.end).toBe(alone[n]!.end);
    expect([...row.urms.slice(0, 3)]).toEqual([...alone[n]!.urms]);
    expect([...row.i1im.slice(0, 3)]).toEqual([...alone[n]!.i1im]);
  }
});

test('the buffers are the same from block to block, and come back after a rest', () => {
  const between = new LineToLine(2, 64);
  const block = sines(0.004, 60, [120, 0], [5, 0], [120, 180], [5, 180]);
  const first = [...between.take(block, 40)];
  const again = between.take(block, 40);
  expect(again[4]).toBe(first[4]);
  between.rest();
  expect(between.take(block, 40)[4]).not.toBe(first[4]);
  expect(again[4]![7]).toBeCloseTo(block[0]![7]! - block[2]![7]!, 12);
  expect(again[5]![7]).toBeCloseTo((block[1]![7]! - block[3]![7]!) / 2, 12);
});

test('lines of entries', () => {
  expect(linesOf([2], 2)).toEqual([0, 1]);
  expect(linesOf([1], 2)).toEqual([1]);
  expect(linesOf([5], 3)).toEqual([0, 2]);
  expect(linesOf([3, 4, 5], 3)).toEqual([0, 1, 2]);
});

test('an arc is found in measured currents alone', () => {
  // 1.2 A on each of two legs, there and back: 1.7 A in all, no arc. With what lies between counted
  // as a third current it would be 2.1 A, and one.
  const levels: number[] = [];
  const detector = new ArcDetector(
    { rateHz, pairs: 2 },
    { began: (start) => levels.push(start), ended: () => {} },
  );
  const quiet = sines(0.5, 60, [120, 0], [0.01, 0], [120, 180], [0.01, 180]);
  const small = sines(0.5, 60, [120, 0], [1.2, 0], [120, 180], [1.2, 180]);
  const columns = quiet.map((column, c) => Float64Array.from([...column, ...small[c]!]));
  for (const row of rowsOf(columns, 2_048)) detector.halfCycle(row);
  expect(levels).toEqual([]);
});
