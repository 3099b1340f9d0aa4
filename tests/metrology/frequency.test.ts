import { describe, expect, test } from 'vitest';
import { Frequency10s, type FrequencySetup } from '../../shared/metrology/frequency-10s.ts';
import type { FrequencyRow } from '../../shared/metrology/interval-row.ts';
import { type Half, type RowStream, steady, tellRows } from './half-cycle-rows.ts';

const RATE = 10_240;

function measure(
  halves: readonly Half[],
  stream: Partial<RowStream>,
  setup: Partial<FrequencySetup> = {},
) {
  const rows: FrequencyRow[] = [];
  const meter = new Frequency10s(
    { rateHz: RATE, startedAt: null, ...setup },
    { frequency: (row) => rows.push({ ...row }) },
  );
  tellRows({ rateHz: RATE, hertz: () => 60, ...stream }, halves, (row, flagged) =>
    meter.halfCycle(row, flagged),
  );
  return rows;
}

describe('Frequency10s', () => {
  test.each([42.5, 50, 50.05, 57.5, 51, 59.95, 60, 69])('%f Hz to a microhertz', (hertz) => {
    const rows = measure(steady(Math.ceil(2 * hertz * 31), { volts: 1 }), { hertz: () => hertz });
    expect(rows.length).toBe(3);
    for (const row of rows) {
      expect(row.hertz).toBeCloseTo(hertz, 6);
      expect(row.whole).toBe(true);
      expect(row.end - row.start).toBe(10 * RATE);
    }
  });

  test('counts the cycles that lie wholly between two ticks', () => {
    // Borders at 5 ms and every 1/60 s: of ten seconds the last cycle begins too late.
    const rows = measure(steady(60 * 2 * 21, { volts: 1 }), { start: 0.005 * RATE });
    expect(rows[0]!.cycles).toBe(599);
    expect(rows[0]!.hertz).toBeCloseTo(60, 9);
  });

  test('a step at the tick shows in neither neighbour: the cycle across it is nobody’s', () => {
    // 595 cycles of 59.5 Hz from 4 ms on: the tick falls 4 ms before the step.
    const rows = measure(steady(60 * 2 * 31, { volts: 1 }), {
      start: 0.004 * RATE,
      hertz: (index) => (index < 1190 ? 59.5 : 60.5),
    });
    expect(rows[0]!.hertz).toBeCloseTo(59.5, 9);
    expect(rows[1]!.hertz).toBeCloseTo(60.5, 9);
  });

  test('a step within ten seconds gives the mean over the whole cycles', () => {
    const rows = measure(steady(60 * 2 * 12, { volts: 1 }), {
      hertz: (index) => (index < 600 ? 60 : 59),
    });
    // 300 cycles of 1/60 s, then whole cycles of 1/59 s in the five seconds left: 295.
    expect(rows[0]!.cycles).toBe(595);
    expect(rows[0]!.hertz).toBeCloseTo(595 / (300 / 60 + 295 / 59), 9);
  });

  test('ticks are those of UTC', () => {
    const startedAt = Date.UTC(2026, 2, 3, 8, 0, 7) * 1000;
    const rows = measure(steady(60 * 2 * 15, { volts: 1 }), {}, { startedAt });
    expect(rows.map((row) => row.end)).toEqual([3 * RATE, 13 * RATE]);
    expect(rows.map((row) => row.whole)).toEqual([false, true]);
  });

  test('flags and coasting mark their ten seconds alone', () => {
    const halves: Half[] = steady(60 * 2 * 41, { volts: 1 }).map((half, n) => ({
      ...half,
      flagged: n === 1500,
      locked: n !== 2700,
    }));
    const rows = measure(halves, {});
    expect(rows.map((row) => row.flagged)).toEqual([false, true, false, false]);
    expect(rows.map((row) => row.whole)).toEqual([true, true, false, true]);
  });

  test('over a gap the cycles on both sides are counted, and it is told', () => {
    const halves = steady(60 * 2 * 25, { volts: 1 }).map((half, n) =>
      n === 301 ? { ...half, gap: 3 * RATE + 17 } : half,
    );
    const rows = measure(halves, { hertz: () => 60.02 });
    expect(rows[0]!.hertz).toBeCloseTo(60.02, 6);
    expect(rows[0]!.whole).toBe(false);
    expect(rows[0]!.cycles).toBeLessThan(425);
    expect(rows[1]!.whole).toBe(true);
  });

  test('ten seconds without a cycle have no frequency', () => {
    const halves = steady(60 * 2 * 3, { volts: 1 }).map((half, n) =>
      n === 240 ? { ...half, gap: 25 * RATE } : half,
    );
    const rows = measure(halves, {});
    expect(rows[0]!.hertz).toBeCloseTo(60, 9);
    expect(rows[1]!.hertz).toBeNaN();
    expect(rows[1]!.whole).toBe(false);
  });
});
