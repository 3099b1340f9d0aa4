import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { IntervalRow } from '../../shared/metrology/interval-row.ts';
import { Intervals, type IntervalsSetup } from '../../shared/metrology/intervals.ts';
import { Ticks } from '../../shared/metrology/ticks.ts';
import { type Half, type RowStream, steady, tellRows } from './half-cycle-rows.ts';

const RATE = 10_240;

function aggregate(
  halves: readonly Half[],
  stream: Partial<RowStream> = {},
  setup: Partial<IntervalsSetup> = {},
) {
  const basic: IntervalRow[] = [];
  const three: IntervalRow[] = [];
  const ten: IntervalRow[] = [];
  const copy = (row: IntervalRow): IntervalRow => ({
    ...row,
    urms: row.urms.slice(),
    irms: row.irms.slice(),
    watts: row.watts.slice(),
  });
  const intervals = new Intervals(
    { rateHz: RATE, pairs: 1, nominalHertz: 60, startedAt: null, ...setup },
    {
      basic: (row) => basic.push(copy(row)),
      threeSeconds: (row) => three.push(copy(row)),
      tenMinutes: (row) => ten.push(copy(row)),
    },
  );
  tellRows({ rateHz: RATE, hertz: () => 60, ...stream }, halves, (row, flagged) =>
    intervals.halfCycle(row, flagged),
  );
  return { intervals, basic, three, ten };
}

describe('10/12-cycle values', () => {
  test.each([
    [60, 24],
    [50, 20],
  ] as const)('at %i Hz %i half cycles make one', (hertz, halves) => {
    const { basic } = aggregate(
      steady(10 * halves, { volts: 120, amps: 3, watts: 300 }),
      { hertz: () => hertz },
      { nominalHertz: null },
    );
    expect(basic.length).toBe(9);
    expect(basic[0]!.start).toBe(0);
    expect(basic[0]!.parts).toBe(halves / 2);
    for (const row of basic) {
      expect(row.end - row.start).toBeCloseTo(2048, 6);
      expect(row.urms[0]).toBeCloseTo(120, 12);
      expect(row.irms[0]).toBeCloseTo(3, 12);
      expect(row.watts[0]).toBeCloseTo(300, 10);
      expect(row.whole).toBe(true);
    }
  });

  test('each half cycle counts once: the energy of all intervals is that of the stream', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1, max: 300, noNaN: true }), { minLength: 97, maxLength: 97 }),
        fc.double({ min: 51, max: 69, noNaN: true }),
        (sizes, hertz) => {
          const { basic } = aggregate(
            sizes.map((volts) => ({ volts })),
            { hertz: () => hertz },
          );
          expect(basic.length).toBe(3);
          basic.forEach((row, n) => {
            const own = sizes.slice(24 * n, 24 * n + 24);
            const mean = own.reduce((sum, volts) => sum + volts ** 2, 0) / 24;
            expect(row.urms[0]! / Math.sqrt(mean)).toBeCloseTo(1, 10);
          });
        },
      ),
    );
  });

  test('a cycle without lock makes its interval not whole', () => {
    const halves = steady(100, { volts: 120 }).map((half, n) => ({ ...half, locked: n !== 30 }));
    const { basic } = aggregate(halves);
    expect(basic.map((row) => row.whole)).toEqual([true, false, true, true]);
  });

  test('a gap cuts the running interval short; the next begins behind it', () => {
    const halves = steady(120, { volts: 120 }).map((half, n) =>
      n === 34 ? { ...half, gap: 5000.5 } : half,
    );
    const { basic } = aggregate(halves);
    expect(basic.map((row) => [row.parts, row.whole])).toEqual([
      [12, true],
      [5, false],
      [12, false],
      [12, true],
      [12, true],
    ]);
    expect(basic[2]!.start).toBeCloseTo((34 * RATE) / 120 + 5000.5, 6);
  });
});

describe('flags (IEC 61000-4-30, 4.7)', () => {
  const dip = (from: number, count: number, total: number): Half[] =>
    steady(total, { volts: 120 }).map((half, n) =>
      n >= from && n < from + count ? { volts: 60, flagged: true } : half,
    );

  test('a one-cycle dip inside interval 7 flags it and its parents, no neighbour', () => {
    // Interval 7 holds half cycles 144 to 167. The row after the dip's last half still reaches
    // into it, but its window's r.m.s. value has recovered only half: it is flagged too.
    const halves = dip(150, 2, 24 * 15 * 2 + 4);
    const { basic, three } = aggregate(halves);
    expect(basic.flatMap((row, n) => (row.flagged ? [n + 1] : []))).toEqual([7]);
    expect(three.map((row) => row.flagged)).toEqual([true, false]);
  });

  test('the ten minutes that hold it are flagged, the next are not', () => {
    const halves = dip(150, 2, 120 * 1201);
    const { ten } = aggregate(halves);
    expect(ten.map((row) => row.flagged)).toEqual([true, false]);
  });

  test('a dip noticed at a border flags both sides', () => {
    const { basic } = aggregate(dip(144, 1, 24 * 10));
    expect(basic.flatMap((row, n) => (row.flagged ? [n + 1] : []))).toEqual([6, 7]);
  });
});

describe('aggregation is by squares', () => {
  test('7 values at 100 % and 8 at 90 %: 0.94798, not 0.94667', () => {
    const halves = [...steady(7 * 24, { volts: 1 }), ...steady(8 * 24 + 4, { volts: 0.9 })];
    const { three } = aggregate(halves);
    expect(three.length).toBe(1);
    expect(three[0]!.parts).toBe(15);
    expect(three[0]!.urms[0]).toBeCloseTo(Math.sqrt((7 + 8 * 0.81) / 15), 12);
    expect(three[0]!.urms[0]).toBeCloseTo(0.94798, 5);
  });

  test('ten minutes: the root of the mean of the squares of all their 10/12-cycle values', () => {
    const halves = steady(120 * 600 + 48, { volts: 0 }).map((_, n) => ({ volts: 100 + (n % 7) }));
    const { basic, ten } = aggregate(halves);
    const own = basic.slice(0, 3000);
    const mean = own.reduce((sum, row) => sum + row.urms[0]! ** 2, 0) / own.length;
    expect(ten.length).toBe(1);
    expect(ten[0]!.parts).toBe(3000);
    expect(ten[0]!.urms[0]).toBeCloseTo(Math.sqrt(mean), 10);
    expect(ten[0]!.whole).toBe(true);
  });
});

describe('the ten-minute tick at 59.9 Hz', () => {
  // Sample 0 is 7.3 s before 08:10 UTC; a tick falls inside a cycle and inside an interval.
  const tick = 7.3 * RATE;
  const startedAt = Date.UTC(2026, 2, 3, 8, 10) * 1000 - 7.3e6;
  const cycle = RATE / 59.9;
  const run = (seconds: number) =>
    aggregate(
      steady(Math.floor(119.8 * seconds), { volts: 120 }),
      { hertz: () => 59.9 },
      { startedAt },
    );

  test('the running interval is finished, the next begins at a border after the tick', () => {
    const { basic } = run(12);
    const opening = basic.findIndex((row) => row.start >= tick);
    const before = basic[opening - 1]!;
    const after = basic[opening]!;
    expect(after.start - tick).toBeGreaterThanOrEqual(0);
    expect(after.start - tick).toBeLessThan(cycle / 2);
    expect(before.start).toBeLessThan(tick);
    expect(before.end).toBeGreaterThan(after.start);
    for (const row of [before, after]) {
      expect(row.parts).toBe(12);
      expect(row.end - row.start).toBeCloseTo(12 * cycle, 6);
      expect(row.whole).toBe(true);
    }
    // Elsewhere they follow each other without gap or overlap.
    for (let n = 1; n < basic.length; n++) {
      if (n !== opening) expect(basic[n]!.start).toBeCloseTo(basic[n - 1]!.end, 6);
    }
  });

  test('the finished one belongs to the ten minutes that end', () => {
    const { basic, ten } = run(12);
    const opening = basic.findIndex((row) => row.start >= tick);
    expect(ten.length).toBe(1);
    expect(ten[0]!.parts).toBe(opening);
    expect(ten[0]!.end).toBe(basic[opening - 1]!.end);
    expect(ten[0]!.whole).toBe(false);
  });

  test('the running 150/180-cycle value is finished beside the new one (overlap 2)', () => {
    const { basic, three } = run(16);
    const opening = basic.findIndex((row) => row.start >= tick);
    const across = three.filter((row) => row.start < tick && row.end > tick);
    const renewed = three.filter((row) => row.start === basic[opening]!.start);
    expect(across.length).toBe(1);
    expect(across[0]!.parts).toBe(15);
    expect(renewed.length).toBe(1);
    expect(renewed[0]!.parts).toBe(15);
    expect(renewed[0]!.start).toBeLessThan(across[0]!.end);
  });

  test('every whole period between ticks holds ten minutes of them', () => {
    const { ten } = run(1225);
    expect(ten.map((row) => row.whole)).toEqual([false, true, true]);
    for (const row of ten.slice(1)) {
      // 600 s of 12 cycles at 59.9 Hz are 2995 intervals; one more may reach over the tick.
      expect(row.parts).toBeGreaterThanOrEqual(2995);
      expect(row.parts).toBeLessThanOrEqual(2996);
      expect(row.urms[0]).toBeCloseTo(120, 9);
    }
  });

  test('finish tells what the last period holds so far', () => {
    const { intervals, ten } = run(12);
    intervals.finish();
    expect(ten.length).toBe(2);
    expect(ten[1]!.whole).toBe(false);
    expect(ten[1]!.parts).toBeGreaterThan(20);
  });
});

describe('Ticks', () => {
  test('are the multiples of the period in UTC, counted in samples', () => {
    const ticks = new Ticks(1000, 599_500_000, 600);
    expect(ticks.after(0)).toBe(500);
    expect(ticks.after(499.999)).toBe(500);
    expect(ticks.after(500)).toBe(600_500);
  });

  test('of a stream without a clock start with it', () => {
    const ticks = new Ticks(1000, null, 10);
    expect(ticks.after(-0.5)).toBe(0);
    expect(ticks.after(0)).toBe(10_000);
  });

  test('stay exact for times of today', () => {
    const ticks = new Ticks(10_240, Date.UTC(2026, 10, 25, 7, 59, 59) * 1000 + 500_000, 600);
    expect(ticks.after(0)).toBe(5120);
  });
});
