import { expect, test } from 'vitest';
import { historyRows } from '../../dashboard/web/src/live/fill-gaps.ts';
import { RecentRows, recentRows } from '../../dashboard/web/src/live/recent-rows.ts';

const rows = (timeMs: number[], volts: number[]) => ({
  slot: 0,
  serial: 0,
  timeMs: Float64Array.from(timeMs),
  hertz: Float32Array.from(timeMs, () => 60),
  volts: [Float32Array.from(volts)],
  amps: [Float32Array.from(volts, (value) => value / 10)],
  watts: [Float32Array.from(volts, (value) => value * 2)],
});

test('gives seconds before now, volts, amps and watts', () => {
  const recent = new RecentRows(1);
  recent.push(rows([9_000, 9_008], [120, 110]));
  const [x, volts, amps, watts] = recent.chart(10_000, 60);
  expect(x).toEqual([-1, -0.992]);
  expect(volts).toEqual([120, 110]);
  expect(amps).toEqual([12, 11]);
  expect(watts).toEqual([240, 220]);
  expect(recent.newestMs).toBe(9_008);
});

test('a hole and a lost reading are gaps, never a line drawn across', () => {
  const recent = new RecentRows(1);
  recent.push(rows([1_000, 1_008], [120, Number.NaN]));
  recent.push(rows([3_000], [121]));
  expect(recent.chart(3_000, 60)[1]).toEqual([120, null, null, 121]);
});

test('keeps the newest, and no more than a strip shows', () => {
  const recent = new RecentRows(1);
  const time = Array.from({ length: recentRows + 100 }, (_, row) => row * 8);
  recent.push(rows(time, time));
  const [x, volts] = recent.chart(time.at(-1)!, 1e6);
  expect(x).toHaveLength(recentRows);
  expect(volts?.at(-1)).toBe(time.at(-1));
  expect(recent.chart(time.at(-1)!, 0.1)[0]!.length).toBeLessThan(15);
});

test('rows that repeat what was heard before a reconnect are drawn once', () => {
  const recent = new RecentRows(1);
  recent.push(rows([1_000, 1_008], [120, 121]));
  recent.push(rows([1_000, 1_008, 1_016], [120, 121, 122]));
  expect(recent.chart(2_000, 60)[1]).toEqual([120, 121, 122]);
});

test('a hole is filled from history; what was seen row by row stays as it was', () => {
  const recent = new RecentRows(1);
  recent.push(rows([1_000, 1_008], [120, 121]));
  recent.push(rows([4_000, 4_008], [118, 119]));
  const some = { length: 4 };
  recent.fill(
    historyRows({
      ...{ from: new Date(500).toISOString(), to: new Date(4_500).toISOString(), bucketS: 1 },
      timeS: Array.from(some, (_, at) => at + 0.5),
      ...{ voltsMin: [[90, 100, null, 90]], voltsMax: [[125, 110, null, 125]] },
      ...{ ampsMin: [[0, 1, null, 0]], ampsMax: [[0, 2, null, 0]] },
    }),
  );
  const [x = [], volts = [], , watts = []] = recent.chart(5_000, 10);
  for (const seen of [120, 121, 118, 119]) expect(volts).toContain(seen);
  const between = volts.filter((_, at) => x[at]! > -3.5 && x[at]! < -2.53);
  expect(new Set(between)).toEqual(new Set([100, 110]));
  // The second that the server has nothing of stays a gap, and no figure stands twice at one time.
  expect(volts.filter((_, at) => x[at]! > -2.4 && x[at]! < -1.6).every((v) => v === null)).toBe(
    true,
  );
  expect(x.every((time, at) => at === 0 || time! > x[at - 1]!)).toBe(true);
  expect(watts.filter((value) => value !== null)).toHaveLength(4);
  recent.push(rows([4_016], [117]));
  expect(recent.newestMs).toBe(4_016);
  expect(recent.chart(5_000, 10)[1]?.at(-1)).toBe(117);
});
