import { describe, expect, test } from 'vitest';
import { Meter } from '../../shared/metrology/meter.ts';
import { type Row, rmsOf, rowsOf, spread, waveOf } from './core-signals.ts';

const volts = (rows: readonly Row[], pair = 0) => rows.map((row) => row.urms[pair]!);
const rates = [1000, 1600, 2400, 4000, 10_240, 30_707.244, 44_100, 100_000];

describe('half-cycle rows of a sine', () => {
  for (const rateHz of rates) {
    for (const hertz of [50, 60]) {
      test(`${hertz} Hz at ${rateHz}/s: volts within 0.1 %, amps within 0.5 %`, () => {
        const seconds = 0.6;
        const v = waveOf({ rateHz, seconds, hertz, volts: 230, phase: 1 });
        const i = waveOf({ rateHz, seconds, hertz, volts: 20, phase: 1 - Math.PI / 3 });
        const rows = rowsOf([v, i], { rateHz });
        for (const row of rows) {
          expect(Math.abs(row.urms[0]! / 230 - 1)).toBeLessThan(0.001);
          expect(Math.abs(row.irms[0]! / 20 - 1)).toBeLessThan(0.005);
        }
        const watts = rows.reduce((sum, row) => sum + row.watts[0]!, 0) / rows.length;
        expect(Math.abs(watts / (230 * 20 * 0.5) - 1)).toBeLessThan(0.002);
      });
    }
  }

  test('ripples by less than a part in 100 000 at 10 240/s and 60 Hz', () => {
    const rows = rowsOf([waveOf({ rateHz: 10_240, seconds: 1, hertz: 60, volts: 120 })], {
      rateHz: 10_240,
    });
    expect(spread(volts(rows)) / 120).toBeLessThan(1e-5);
  });

  test('covers the stream from its first whole cycle to its last', () => {
    const rateHz = 10_240;
    const cycle = rateHz / 60;
    const wave = waveOf({ rateHz, seconds: 1, hertz: 60, volts: 120, phase: 2 });
    const rows = rowsOf([wave], { rateHz });
    expect(rows[0]!.start).toBeLessThan(cycle / 2);
    expect(rows.at(-1)!.end).toBeGreaterThan(rateHz - cycle / 2);
    rows.forEach((row, n) => {
      expect(row.index).toBe(n);
      if (n > 0) expect(row.start).toBeCloseTo(rows[n - 1]!.middle, 9);
      if (n > 0) expect(row.middle).toBeCloseTo(rows[n - 1]!.end, 9);
    });
  });

  test('tells a row at most two cycles after its end', () => {
    const rateHz = 10_240;
    const wave = waveOf({ rateHz, seconds: 1, hertz: 50, volts: 120 });
    let pushed = 0;
    let worst = 0;
    const meter = new Meter(
      { rateHz, pairs: 1, nominalHertz: 50 },
      {
        halfCycle(row) {
          if (pushed > 0.15 * rateHz) worst = Math.max(worst, pushed - row.end);
        },
      },
    );
    for (; pushed < wave.length; pushed++) {
      const one = wave.subarray(pushed, pushed + 1);
      meter.push([one, one], 1);
    }
    expect(worst).toBeGreaterThan(0);
    expect(worst).toBeLessThan((2 * rateHz) / 50);
  });
});

describe('a row is what the four samples say', () => {
  // Four samples a cycle at 50 Hz would be 200/s; the meter starts at 1 000/s, twenty a cycle.
  test('a square wave of ±3 V and ±2 A has 3 V, 2 A and 6 W', () => {
    const rateHz = 1000;
    const square = (height: number) =>
      Float64Array.from({ length: 400 }, (_, k) => (k % 20 < 10 ? height : -height));
    for (const row of rowsOf([square(3), square(2)], { rateHz, nominalHertz: 50 })) {
      expect(row.urms[0]).toBeCloseTo(3, 9);
      expect(row.irms[0]).toBeCloseTo(2, 9);
      expect(row.watts[0]).toBeCloseTo(6, 9);
      expect(row.uhalf[0]).toBeCloseTo(3, 9);
      expect(row.ihalf[0]).toBeCloseTo(2, 9);
    }
  });
});

describe('phasors', () => {
  test('are those of the fundamental, cosine at the window’s start', () => {
    const rateHz = 10_240;
    const harmonics = [[5, 0.2]] as const;
    const v = waveOf({ rateHz, seconds: 0.5, hertz: 59.7, volts: 120, harmonics });
    const i = waveOf({ rateHz, seconds: 0.5, hertz: 59.7, volts: 10, phase: -0.5 });
    for (const row of rowsOf([v, i], { rateHz, phasors: true })) {
      const angle = (2 * Math.PI * 59.7 * row.start) / rateHz;
      // √2·120·sin(a + ωt) = √2·Re(U·e^{jωt}) with U = 120·(sin a − j·cos a).
      expect(row.u1re[0]).toBeCloseTo(120 * Math.sin(angle), 2);
      expect(row.u1im[0]).toBeCloseTo(-120 * Math.cos(angle), 2);
      expect(row.i1re[0]).toBeCloseTo(10 * Math.sin(angle - 0.5), 2);
      expect(row.i1im[0]).toBeCloseTo(-10 * Math.cos(angle - 0.5), 2);
    }
  });
});

describe('gaps', () => {
  const rateHz = 10_240;
  const whole = waveOf({ rateHz, seconds: 4, hertz: 60, volts: 120 });

  function withGap(from: number, to: number): Row[] {
    const rows: Row[] = [];
    const meter = new Meter(
      { rateHz, pairs: 1, nominalHertz: null },
      { halfCycle: (row) => rows.push({ ...row, urms: row.urms.slice() }) },
    );
    const before = whole.subarray(0, from);
    const after = whole.subarray(to);
    meter.push([before, before], before.length);
    meter.skip(to - from);
    meter.push([after, after], after.length);
    meter.end();
    return rows;
  }

  for (const [from, to] of [
    [10_000, 10_003],
    [10_000, 12_345],
    [10_000, 30_000],
    [700, 5000],
    [100, 5000],
    [10_000, 40_900],
  ] as const) {
    test(`of samples ${from} … ${to}: no row touches it, the rest is as it was`, () => {
      const rows = withGap(from, to);
      expect(rows.length).toBeGreaterThan(10);
      for (const row of rows) {
        expect(row.end <= from + 1 || row.start >= to - 1).toBe(true);
        expect(Math.abs(row.urms[0]! / 120 - 1)).toBeLessThan(0.001);
        expect(row.index).toBe(Math.round((row.start - rows[0]!.start) / (rateHz / 120)));
      }
      if (whole.length - to > 500) expect(rows.at(-1)!.end).toBeGreaterThan(whole.length - 100);
    });
  }

  test('a gap at the very start, and one after nothing', () => {
    const rows: number[] = [];
    const meter = new Meter(
      { rateHz, pairs: 1, nominalHertz: 60 },
      { halfCycle: (row) => rows.push(row.start) },
    );
    meter.skip(1000);
    meter.skip(1000);
    meter.push([whole, whole], whole.length);
    meter.end();
    expect(rows[0]).toBeGreaterThan(1999);
    expect(rows[0]).toBeLessThan(2100);
  });
});

describe('several pairs', () => {
  const rateHz = 10_240;
  const third = (2 * Math.PI) / 3;

  test('three phases each have their own volts and watts', () => {
    const channels = [100, 120, 140].flatMap((level, n) => [
      waveOf({ rateHz, seconds: 1, hertz: 60, volts: level, phase: -n * third }),
      waveOf({ rateHz, seconds: 1, hertz: 60, volts: n + 1, phase: -n * third }),
    ]);
    for (const row of rowsOf(channels, { rateHz })) {
      [100, 120, 140].forEach((level, n) => {
        expect(row.urms[n]).toBeCloseTo(level, 3);
        expect(row.irms[n]).toBeCloseTo(n + 1, 4);
        expect(row.watts[n]).toBeCloseTo(level * (n + 1), 2);
      });
    }
  });

  test('the sync moves to another phase when its own is lost, and stays locked', () => {
    const lost = (t: number) => (t > 0.5 ? 0.01 : 1);
    const channels = [0, 1, 2].flatMap((n) => [
      waveOf({
        ...{ rateHz, seconds: 1.5, hertz: 60, volts: 120, phase: -n * third },
        ...(n === 0 ? { envelope: lost } : {}),
      }),
      new Float64Array(1.5 * rateHz),
    ]);
    const rows = rowsOf(channels, { rateHz }).filter((row) => row.start > 0.6 * rateHz);
    expect(rows.length).toBeGreaterThan(100);
    for (const row of rows) {
      expect(row.locked).toBe(true);
      expect(row.urms[1]).toBeCloseTo(120, 2);
      expect(row.urms[2]).toBeCloseTo(120, 2);
    }
    // Borders are now zero crossings of the second phase.
    const at = (2 * Math.PI * 60 * rows.at(-1)!.start) / rateHz - third;
    expect(Math.abs(Math.sin(at))).toBeLessThan(0.001);
  });
});

test('a stream of less than a cycle has no row; of four cycles, nearly four', () => {
  const rateHz = 10_240;
  for (const [samples, rows] of [
    [0, 0],
    [1, 0],
    [100, 0],
    [683, 6],
  ] as const) {
    const wave = waveOf({ rateHz, seconds: samples / rateHz, hertz: 60, volts: 120, phase: 0.5 });
    const all = rowsOf([wave], { rateHz });
    expect(all.length).toBeGreaterThanOrEqual(rows);
    for (const row of all) expect(Math.abs(row.urms[0]! / 120 - 1)).toBeLessThan(0.001);
  }
});

test('rows and edges together are every sample, once', () => {
  const rateHz = 10_240;
  for (const samples of [683, 1500, 4096, 20_000]) {
    for (const skipAt of [0, 700, samples / 2]) {
      const wave = waveOf({ rateHz, seconds: samples / rateHz, hertz: 59.3, volts: 120, noise: 1 });
      let square = 0;
      let first = true;
      const add = (row: Row, from: number, to: number, rms: number) => {
        square += rms * rms * (to - from);
        first = row.end === 0;
      };
      const meter = new Meter(
        { rateHz, pairs: 1, nominalHertz: 60 },
        {
          halfCycle(row) {
            const half = row.end - row.middle;
            const whole = row.urms[0]! ** 2 * (row.end - row.start);
            if (first) square += whole - row.uhalf[0]! ** 2 * half;
            add(row, row.middle, row.end, row.uhalf[0]!);
          },
          edge(row) {
            add(row, row.middle, row.end, row.uhalf[0]!);
            first = true;
          },
        },
      );
      const [before, after] = [wave.subarray(0, skipAt), wave.subarray(skipAt)];
      meter.push([before, before], before.length);
      meter.skip(1000);
      meter.push([after, after], after.length);
      meter.end();
      const truth = wave.reduce((sum, value) => sum + value * value, 0);
      expect(square / truth).toBeCloseTo(1, 10);
    }
  }
});

test('refuses what it cannot be built for', () => {
  const sink = { halfCycle() {} };
  expect(() => new Meter({ rateHz: 999, pairs: 1, nominalHertz: 50 }, sink)).toThrow(/1 000/);
  expect(() => new Meter({ rateHz: 9999, pairs: 4, nominalHertz: 50 }, sink)).toThrow(/pairs/);
});

test('means over a distorted second are true r.m.s.', () => {
  const rateHz = 10_240;
  const harmonics = [
    [3, 0.8],
    [5, 0.5],
    [7, 0.3],
  ] as const;
  const i = waveOf({ rateHz, seconds: 1, hertz: 60, volts: 10, harmonics });
  const v = waveOf({ rateHz, seconds: 1, hertz: 60, volts: 120 });
  const rows = rowsOf([v, i], { rateHz });
  const truth = 10 * Math.sqrt(1 + 0.64 + 0.25 + 0.09);
  expect(rmsOf(rows.map((row) => row.irms[0]!)) / truth).toBeCloseTo(1, 4);
});
