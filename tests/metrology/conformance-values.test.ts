import { describe, expect, test } from 'vitest';
import { RmsEvents } from '../../shared/metrology/rms-events.ts';
import { intervalsOf, rateHz, type Signal, sampled, steppedRows } from './conformance-signals.ts';
import { type Row, rowsOf } from './core-signals.ts';

/** R.m.s. of a signal over from … to by the midpoint rule. */
function trueRms(signal: Signal, from: number, to: number, steps = 4000): number {
  let sum = 0;
  for (let n = 0; n < steps; n++) sum += signal(from + ((n + 0.5) / steps) * (to - from)) ** 2;
  return Math.sqrt(sum / steps);
}

const systems = [
  { udin: 230, nominal: 50, halves: 20, hertz: [42.5, 50, 50.05, 57.5] },
  { udin: 120, nominal: 60, halves: 24, hertz: [51, 59.95, 60, 69] },
] as const;

interface State {
  offsetHertz: number;
  shares: readonly number[];
  harmonics: readonly (readonly [order: number, share: number, phase: number])[];
  interharmonic: readonly [order: number, share: number];
  /** Rectangular modulation: changes a minute and size. */
  changes: number;
  size: number;
}

/** Influence quantities of IEC 61000-4-30, 6.2, from memory. */
const states: Record<string, State> = {
  'state 1': {
    ...{ offsetHertz: 0.3, shares: [1, 0.995, 1.005], harmonics: [[5, 0.02, 0]] },
    ...{ interharmonic: [7.5, 0.004], changes: 39, size: 0.0008 },
  },
  'state 2': {
    offsetHertz: -1,
    shares: [0.73, 0.8, 0.87],
    harmonics: [
      [3, 0.1, 0],
      [5, 0.05, 0],
      [29, 0.05, 0],
    ],
    ...{ interharmonic: [7.5, 0.01], changes: 39, size: 0.0104 },
  },
  'state 3': {
    offsetHertz: 1,
    shares: [1.52, 1.4, 1.28],
    harmonics: [
      [7, 0.1, Math.PI],
      [13, 0.05, 0],
      [25, 0.05, 0],
    ],
    ...{ interharmonic: [3.5, 0.01], changes: 110, size: 4 * 0.00844 },
  },
};

describe('2.4 row 1: magnitude within 0.1 % of the declared voltage', () => {
  for (const { udin, halves, nominal, hertz } of systems) {
    for (const f of hertz) {
      test(`10 to 150 % of ${udin} V at ${f} Hz`, () => {
        for (const share of [0.1, 0.45, 0.8, 1.15, 1.5]) {
          const signal = (t: number) =>
            Math.SQRT2 * share * udin * Math.sin(2 * Math.PI * f * t + 0.4);
          const rows = rowsOf(sampled([signal], 0.8), { rateHz, nominalHertz: nominal });
          const intervals = intervalsOf(rows, halves);
          expect(intervals.length).toBeGreaterThan(1);
          for (const { volts } of intervals) {
            expect(Math.abs(volts[0]! - share * udin)).toBeLessThan(0.001 * udin);
          }
        }
      });
    }
    for (const [name, state] of Object.entries(states)) {
      test(`${name} on three phases of ${udin} V, ${nominal} Hz`, () => {
        const f = nominal + state.offsetHertz;
        const signals = state.shares.map((share, phase) => (t: number) => {
          const angle = 2 * Math.PI * (f * t - phase / 3);
          let value = Math.sin(angle);
          for (const [order, part, at] of state.harmonics) {
            value += part * Math.sin(order * angle + at);
          }
          const [order, part] = state.interharmonic;
          value += part * Math.sin(2 * Math.PI * order * nominal * t);
          const step = Math.floor((t * state.changes) / 60) % 2 === 0 ? 1 : -1;
          return Math.SQRT2 * share * udin * value * (1 + (step * state.size) / 2);
        });
        const rows = rowsOf(sampled(signals, 3), { rateHz, nominalHertz: nominal });
        const cycle = rateHz / f;
        for (const row of rows) {
          expect(Math.abs((row.end - row.start) / cycle - 1)).toBeLessThan(0.003);
        }
        for (const { start, end, volts } of intervalsOf(rows, halves)) {
          volts.forEach((rms, pair) => {
            const truth = trueRms(signals[pair]!, start / rateHz, end / rateHz, 20_000);
            expect(Math.abs(rms - truth)).toBeLessThan(0.001 * udin);
          });
        }
      });
    }
  }
});

test('2.4 row 7: a dip of one cycle flags the interval it lies in, and no neighbour', () => {
  // Intervals of twelve cycles from the first row; the dip in the middle of the seventh.
  const levels = [
    [0, 1],
    [78, 0.5],
    [79, 1],
  ] as const;
  const rows = steppedRows(60, levels, 3);
  const meter = new RmsEvents({ rateHz, pairs: 1, declaredVolts: 1 }, { ended() {} });
  for (const row of rows) meter.halfCycle(row);
  const flags = intervalsOf(rows, 24).map(({ start, end }) => meter.touches(start, end));
  expect(flags.filter(Boolean)).toHaveLength(1);
  expect(flags.indexOf(true)).toBe(6);
});

describe('2.4 row 9: frequency over ten seconds within 10 mHz', () => {
  /** Whole cycles inside from … to seconds over the time that they took. */
  function frequency(rows: readonly Row[], from: number, to: number): number {
    const borders = rows.filter((row) => row.index % 2 === 0).map((row) => row.start / rateHz);
    const inside = borders.filter((border) => border >= from && border <= to);
    return (inside.length - 1) / (inside.at(-1)! - inside[0]!);
  }
  const third = (angle: number) => Math.sin(angle) + 0.1 * Math.sin(3 * angle + Math.PI);

  for (const [nominal, f] of [
    [50, 42.5],
    [50, 50.05],
    [50, 57.5],
    [60, 51],
    [60, 59.95],
    [60, 69],
  ] as const) {
    test(`${f} Hz with a third of 10 % at 180°`, () => {
      const signal = (t: number) => 170 * third(2 * Math.PI * f * t + 1);
      const rows = rowsOf(sampled([signal], 10.5), { rateHz, nominalHertz: nominal });
      expect(Math.abs(frequency(rows, 0.2, 10.2) - f)).toBeLessThan(0.002);
    });
  }

  test('a step across the tick: each side has its own', () => {
    const angle = (t: number) => 2 * Math.PI * (t < 10 ? 59.95 * t : 599.5 + 60.05 * (t - 10));
    const rows = rowsOf(sampled([(t) => 170 * third(angle(t))], 20), { rateHz });
    expect(Math.abs(frequency(rows, 0, 10) - 59.95)).toBeLessThan(0.01);
    expect(Math.abs(frequency(rows, 10, 20) - 60.05)).toBeLessThan(0.01);
  });
});
