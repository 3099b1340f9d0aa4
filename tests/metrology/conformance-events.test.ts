import { describe, expect, test } from 'vitest';
import {
  asSampled,
  eventsOf,
  rateHz,
  sampled,
  stepped,
  steppedRows,
} from './conformance-signals.ts';
import { rowsOf } from './core-signals.ts';

describe('2.4 row 2: a step at each eighth of a cycle', () => {
  for (const f of [50, 60]) {
    for (const level of [0, 0.5, 0.85, 1.2]) {
      test(`to ${100 * level} % at ${f} Hz: the sequence is the analytic one within 0.2 %`, () => {
        for (let eighth = 0; eighth < 8; eighth++) {
          const levels = [
            [0, 1],
            [25 + eighth / 8, level],
            [50 + eighth / 8, 1],
          ] as const;
          const sampledLevels = asSampled(levels, f);
          for (const row of steppedRows(f, levels, 1.6)) {
            const n = Math.round((2 * f * row.start) / rateHz);
            expect(Math.abs(row.urms[0]! - stepped(n, sampledLevels))).toBeLessThan(0.002);
          }
        }
      });
    }
  }
});

describe('2.4 row 3: dips', () => {
  for (const f of [50, 60]) {
    for (const cycles of [1, 1.5, 2.5, 5, 10, 30]) {
      test(`${cycles} cycles at ${f} Hz: residual within 0.2 %, duration within a cycle`, () => {
        for (const residual of [0.1, 0.4, 0.7, 0.85, 0.88]) {
          for (const offset of [0, 0.125, 0.25, 0.4]) {
            const at = 12 + offset;
            const levels = [
              [0, 1],
              [at, residual],
              [at + cycles, 1],
            ] as const;
            const shown = asSampled(levels, f);
            const windows = Array.from({ length: 2 * (14 + cycles) }, (_, n) => stepped(n, shown));
            const truth = Math.min(...windows);
            const events = eventsOf(steppedRows(f, levels, (cycles + 30) / f), 1);
            // Within the uncertainty of the threshold either answer is right.
            if (Math.abs(truth - 0.9) < 0.002) continue;
            expect(events.map((event) => event.kind)).toEqual(truth < 0.9 ? ['dip'] : []);
            if (truth >= 0.9) continue;
            const [dip] = events;
            expect(Math.abs(dip!.volts - truth)).toBeLessThan(0.002);
            // A cycle by definition of the windows, and the borders' own hundredth.
            expect(Math.abs(dip!.seconds * f - cycles)).toBeLessThan(1.01);
            expect(Math.abs((dip!.start / rateHz) * f - at)).toBeLessThanOrEqual(0.75);
          }
        }
      });
    }
  }
});

describe('2.4 rows 4 and 6: hysteresis, on waveforms', () => {
  const ends = (levels: readonly (readonly [number, number])[]) =>
    eventsOf(steppedRows(60, levels, 2), 1);

  test('back to threshold + 1 %: the dip goes on to the end of the record', () => {
    const [dip] = ends([
      [0, 1],
      [30, 0.8],
      [50, 0.91],
    ]);
    expect(dip!.seconds).toBeGreaterThan(1.4);
  });

  test('back to threshold + 2 %: it ends', () => {
    const [dip] = ends([
      [0, 1],
      [30, 0.8],
      [50, 0.9201],
    ]);
    expect(Math.abs(dip!.seconds * 60 - 20)).toBeLessThan(1);
  });

  test('a swell to 112 % back to 109 % goes on, to 107.9 % ends', () => {
    const on = ends([
      [0, 1],
      [30, 1.12],
      [50, 1.09],
    ]);
    expect(on[0]!.kind).toBe('swell');
    expect(on[0]!.seconds).toBeGreaterThan(1.4);
    const off = ends([
      [0, 1],
      [30, 1.12],
      [50, 1.079],
    ]);
    expect(Math.abs(off[0]!.seconds * 60 - 20)).toBeLessThan(1);
    expect(Math.abs(off[0]!.volts - 1.12)).toBeLessThan(0.002);
  });
});

describe('2.4 row 5: a split phase', () => {
  const legs = (first: (t: number) => number, second: (t: number) => number) => {
    const sine = (t: number) => Math.SQRT2 * 120 * Math.sin(2 * Math.PI * 60 * t);
    const signals = [(t: number) => first(t) * sine(t), (t: number) => -second(t) * sine(t)];
    return eventsOf(rowsOf(sampled(signals, 2), { rateHz }), 120);
  };
  const between = (t: number, from: number, to: number) => t >= from && t < to;

  test('L1 dips, L2 dips before L1 recovers: one event, from L1 to L2', () => {
    const events = legs(
      (t) => (between(t, 0.5, 0.8) ? 0.8 : 1),
      (t) => (between(t, 0.7, 1.1) ? 0.7 : 1),
    );
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({ kind: 'dip', startChannel: 0, endChannel: 1 });
    expect(Math.abs(events[0]!.seconds - 0.6)).toBeLessThan(1 / 60);
    expect(Math.abs(events[0]!.volts - 84)).toBeLessThan(0.24);
  });

  test('one leg at 0 V, the other healthy: a dip and no interruption', () => {
    const events = legs(
      (t) => (between(t, 0.5, 1) ? 0 : 1),
      () => 1,
    );
    expect(events.map((event) => event.kind)).toEqual(['dip']);
  });

  test('both at 0 V: an interruption inside a dip', () => {
    const off = (t: number) => (between(t, 0.5, 1) ? 0 : 1);
    const events = legs(off, off);
    expect(events.map((event) => event.kind).sort()).toEqual(['dip', 'interruption']);
    for (const event of events) expect(Math.abs(event.seconds - 0.5)).toBeLessThan(1 / 60);
  });
});
