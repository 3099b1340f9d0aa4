import { describe, expect, test } from 'vitest';
import { noiseOf, rowsOf, spread, type Wave, waveOf } from './core-signals.ts';

const rateHz = 10_240;
const base: Wave = { rateHz, seconds: 2, hertz: 60, volts: 120 };
const trueRms = (harmonics: NonNullable<Wave['harmonics']>) =>
  120 * Math.sqrt(1 + harmonics.reduce((sum, [, share]) => sum + share * share, 0));

describe('the whole band is found by itself', () => {
  for (const hertz of [42.5, 47, 50, 51, 54.5, 55.5, 57.5, 60, 63, 69]) {
    test(`${hertz} Hz`, () => {
      const rows = rowsOf([waveOf({ ...base, hertz })], { rateHz });
      for (const row of rows) {
        expect(row.locked).toBe(true);
        expect(Math.abs(row.hertz - hertz)).toBeLessThan(0.01);
        expect(Math.abs(row.urms[0]! / 120 - 1)).toBeLessThan(1e-4);
      }
    });
  }

  for (const [nominalHertz, hertz] of [
    [50, 42.5],
    [50, 57.5],
    [60, 51],
    [60, 69],
  ] as const) {
    test(`${hertz} Hz on a nominal ${nominalHertz} Hz`, () => {
      for (const row of rowsOf([waveOf({ ...base, hertz })], { rateHz, nominalHertz })) {
        expect(Math.abs(row.hertz - hertz)).toBeLessThan(0.01);
      }
    });
  }
});

describe('a dirty voltage does not move the borders', () => {
  const shapes = {
    'third in phase': [[3, 0.1]],
    'third against': [[3, 0.1, Math.PI]],
    'fifth of a tenth': [[5, 0.1]],
    'state 2 of IEC 61000-4-30': [
      [3, 0.1],
      [5, 0.05],
      [29, 0.05],
    ],
    'state 3 of IEC 61000-4-30': [
      [7, 0.1, Math.PI],
      [13, 0.05],
      [25, 0.05],
    ],
  } as const;
  for (const [name, harmonics] of Object.entries(shapes)) {
    test(`${name}: within 0.02 %`, () => {
      for (const hertz of [59.3, 60, 61]) {
        const rows = rowsOf([waveOf({ ...base, hertz, harmonics })], { rateHz });
        for (const row of rows) {
          expect(Math.abs(row.urms[0]! / trueRms(harmonics) - 1)).toBeLessThan(2e-4);
          expect(Math.abs(row.hertz - hertz)).toBeLessThan(0.01);
        }
      }
    });
  }

  test('flat tops, notches and arc noise: borders stay within 0.1 % of a cycle', () => {
    const v = waveOf(base);
    const noise = noiseOf(7);
    for (let k = 0; k < v.length; k++) {
      v[k] = Math.max(-145, Math.min(145, v[k]!)) + 1.5 * noise();
      // Six notches a cycle, a commutating rectifier's, 4 % of a sixth deep to a third.
      if (((k * 60) / rateHz) % (1 / 6) < 0.04 / 6) v[k]! *= 0.33;
    }
    const rows = rowsOf([v], { rateHz });
    const lengths = rows.map((row) => (row.end - row.start) / (rateHz / 60));
    for (const length of lengths) expect(Math.abs(length - 1)).toBeLessThan(0.001);
  });

  test('a DC offset half as high as the voltage changes no border', () => {
    const clean = rowsOf([waveOf(base)], { rateHz });
    const shifted = rowsOf([waveOf(base).map((value) => value + 60)], { rateHz });
    shifted.forEach((row, n) => {
      expect(Math.abs(row.start - clean[n]!.start)).toBeLessThan(0.02);
    });
  });
});

describe('a supply that moves is followed', () => {
  function swept(hertzAt: (seconds: number) => number, seconds = 3): Float64Array {
    const out = new Float64Array(seconds * rateHz);
    let angle = 0;
    for (let k = 0; k < out.length; k++) {
      angle += (2 * Math.PI * hertzAt(k / rateHz)) / rateHz;
      out[k] = Math.SQRT2 * 120 * Math.sin(angle);
    }
    return out;
  }

  for (const slope of [1, -5, 10]) {
    test(`a generator that drifts by ${slope} Hz a second`, () => {
      const hertzAt = (t: number) => 60 + slope * Math.min(0.6, Math.max(0, t - 1));
      for (const row of rowsOf([swept(hertzAt)], { rateHz })) {
        expect(Math.abs(row.urms[0]! / 120 - 1)).toBeLessThan(5e-4);
        expect(Math.abs(row.hertz - hertzAt(row.end / rateHz))).toBeLessThan(0.5);
      }
    });
  }

  test('a sudden step of 3 Hz, as a load that falls off a generator: 0.1 % again in 0.15 s', () => {
    const rows = rowsOf([swept((t) => (t < 1 ? 57 : 60))], { rateHz });
    for (const row of rows.filter((row) => Math.abs(row.end / rateHz - 1.06) > 0.09)) {
      expect(Math.abs(row.urms[0]! / 120 - 1)).toBeLessThan(0.001);
    }
  });

  for (const degrees of [10, 30, 60, 90, 120, 180]) {
    test(`a phase jump of ${degrees}°: settled two cycles later, frequency within 1 Hz`, () => {
      const jump = (degrees * Math.PI) / 180;
      const v = Float64Array.from(
        { length: 2 * rateHz },
        (_, k) => 170 * Math.sin((2 * Math.PI * 60 * k) / rateHz + (k > 1.003 * rateHz ? jump : 0)),
      );
      for (const row of rowsOf([v], { rateHz })) {
        expect(Math.abs(row.hertz - 60)).toBeLessThan(1);
        const apart = row.start / rateHz - 1.003;
        if (apart < -2.5 / 60 || apart > 2 / 60) {
          expect(Math.abs(row.urms[0]! / (170 / Math.SQRT2) - 1)).toBeLessThan(0.001);
        }
      }
    });
  }
});

/*
 * A cycle's window over a phase jump holds more or less than a cycle's energy: by up to 15 % for
 * 60°. Urms(1/2) is the r.m.s. of its window, so such a row is no error of ours, and where it
 * falls under 90 % it is a dip by definition, a cycle long.
 */
describe('over a phase jump a row is the r.m.s. of its own window', () => {
  const turn = 2 * Math.PI * 60;

  /** Mean of 2·sin²(turn·t + phase) over from … to, times its length. */
  const squares = (from: number, to: number, phase: number) =>
    to -
    from -
    (Math.sin(2 * (turn * to + phase)) - Math.sin(2 * (turn * from + phase))) / 2 / turn;

  for (const degrees of [30, 60, 90, 120]) {
    test(`${degrees}°, wherever it falls: within 0.2 %`, () => {
      const jump = (degrees * Math.PI) / 180;
      for (let eighth = 0; eighth < 8; eighth++) {
        const first = Math.round((1 + eighth / 8 / 60) * rateHz);
        // The samples show it half way between the last before and the first after.
        const at = (first - 0.5) / rateHz;
        const v = Float64Array.from(
          { length: 1.3 * rateHz },
          (_, k) => Math.SQRT2 * Math.sin((turn * k) / rateHz + (k >= first ? jump : 0)),
        );
        for (const { start, end, urms } of rowsOf([v], { rateHz })) {
          const [from, to] = [start / rateHz, end / rateHz];
          const middle = Math.min(to, Math.max(from, at));
          const sum = squares(from, middle, 0) + squares(middle, to, jump);
          expect(Math.abs(urms[0]! - Math.sqrt(sum / (to - from)))).toBeLessThan(0.002);
        }
      }
    });
  }

  test('60° just before a crossing: the two rows that hold it are under 90 %, and right', () => {
    const v = Float64Array.from(
      { length: 1.3 * rateHz },
      (_, k) => Math.SQRT2 * Math.sin((turn * k) / rateHz + (k > 1.003 * rateHz ? Math.PI / 3 : 0)),
    );
    const low = rowsOf([v], { rateHz }).filter((row) => row.urms[0]! < 0.9);
    expect(low).toHaveLength(2);
    for (const row of low) expect(row.urms[0]!).toBeCloseTo(0.8915, 3);
  });
});

describe('without a fundamental the sync coasts', () => {
  for (const noise of [0, 0.05]) {
    test(`through an interruption${noise > 0 ? ' with noise' : ''}, and takes up again`, () => {
      const envelope = (t: number) => (t > 0.7 && t < 1.3 ? 0 : 1);
      const rows = rowsOf([waveOf({ ...base, noise, envelope })], { rateHz });
      const lengths = rows.map((row) => row.end - row.start);
      expect(spread(lengths)).toBeLessThan(0.01 * (rateHz / 60));
      for (const row of rows) {
        const middle = row.middle / rateHz;
        if (middle > 0.75 && middle < 1.25) expect(row.locked).toBe(false);
        if (middle < 0.66 || middle > 1.34) {
          expect(row.locked).toBe(true);
          expect(Math.abs(row.urms[0]! / 120 - 1)).toBeLessThan(0.001);
        }
      }
    });
  }

  test('a stream that begins dead has rows, and finds the supply when it comes', () => {
    const envelope = (t: number) => (t < 0.5 ? 0 : 1);
    for (const hertz of [50, 60, 67]) {
      const rows = rowsOf([waveOf({ ...base, hertz, noise: 0.05, envelope })], { rateHz });
      expect(rows[0]!.start).toBeLessThan(rateHz / 50);
      for (const row of rows) {
        if (row.end < 0.5 * rateHz) expect(row.locked).toBe(false);
        if (row.start > 0.75 * rateHz) {
          expect(row.locked).toBe(true);
          expect(Math.abs(row.hertz - hertz)).toBeLessThan(0.1);
          expect(Math.abs(row.urms[0]! / 120 - 1)).toBeLessThan(0.001);
        }
      }
    }
  });

  test('noise alone, silence alone and DC alone never lock', () => {
    const noise = waveOf({ ...base, volts: 0, noise: 1 });
    for (const wave of [noise, new Float64Array(20_000), new Float64Array(20_000).fill(12)]) {
      const rows = rowsOf([wave], { rateHz });
      expect(rows.length).toBeGreaterThan(150);
      expect(rows.filter((row) => row.locked).length).toBeLessThan(rows.length / 20);
    }
  });
});

test('borders drift by less than a hundredth of a cycle over ten seconds: 10 mHz is 0.1', () => {
  for (const hertz of [50.05, 59.95]) {
    const rows = rowsOf([waveOf({ ...base, seconds: 10.2, hertz, noise: 0.2 })], { rateHz });
    const first = rows[0]!;
    const last = rows.at(-1)!;
    const cycles = (last.index - first.index) / 2;
    const measured = (cycles * rateHz) / (last.start - first.start);
    expect(Math.abs(measured - hertz)).toBeLessThan(0.001);
  }
});
