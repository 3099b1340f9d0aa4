import { describe, expect, test } from 'vitest';
import { symmetricalComponents } from '../../shared/metrology/unbalance.ts';
import { measureStream, noiseFrom, STATES, waveAt } from './measured-stream.ts';

const RATE = 10_240;
const PEAK = 120 * Math.SQRT2;
const rmsOf = (lines: (typeof STATES)[number]['lines']) =>
  Math.hypot(...lines.map((line) => line[1]));

describe('10/12-cycle voltage from samples: ±0.1 % of the declared voltage', () => {
  const levels = [0.1, 0.45, 0.8, 1.15, 1.5];
  test.each([51, 59.95, 60, 69])('sine at %f Hz, 10 to 150 percent', (hertz) => {
    for (const level of levels) {
      const { basics } = measureStream({
        rateHz: RATE,
        frames: 1.5 * RATE,
        nominalHertz: 60,
        columns: [
          (n) => level * PEAK * Math.sin((2 * Math.PI * hertz * n) / RATE),
          (n) => Math.sin((2 * Math.PI * hertz * n) / RATE),
        ],
      });
      expect(basics.length).toBeGreaterThan(4);
      for (const row of basics.slice(0, -1)) {
        expect(Math.abs(row.urms[0]! - level * 120)).toBeLessThan(0.001 * 120);
      }
    }
  });

  test.each(STATES)('$name of influence quantities', ({ offset, lines }) => {
    for (const nominal of [50, 60] as const) {
      const hertz = nominal + offset;
      const { basics } = measureStream({
        rateHz: RATE,
        frames: 2 * RATE,
        nominalHertz: nominal,
        columns: [(n) => PEAK * waveAt((hertz * n) / RATE, lines), () => 0],
      });
      // An interharmonic at 7.5 times the fundamental is not periodic in one cycle but in two.
      for (const row of basics.slice(0, -1)) {
        expect(Math.abs(row.urms[0]! - 120 * rmsOf(lines))).toBeLessThan(0.001 * 120);
      }
    }
  });
});

describe('10 s frequency from samples: ±10 mHz', () => {
  test.each([
    [60, 51],
    [60, 59.95],
    [60, 69],
    [50, 42.5],
    [50, 50.05],
    [50, 57.5],
  ] as const)(
    'nominal %f, true %f Hz, third harmonic of a tenth at 180° and noise',
    (nominal, hertz) => {
      const noise = noiseFrom(7);
      const lines = [
        [1, 1, 0],
        [3, 0.1, 180],
      ] as const;
      const { frequencies } = measureStream({
        rateHz: 4000,
        frames: 4000 * 21,
        nominalHertz: nominal,
        columns: [(n) => waveAt((hertz * n) / 4000, lines) + 0.02 * noise(), () => 0],
      });
      expect(frequencies.length).toBe(2);
      for (const row of frequencies) expect(Math.abs(row.hertz - hertz)).toBeLessThan(0.01);
    },
  );

  test('a step of 0.5 Hz at the tick: each side its own', () => {
    const step = 10 * 4000;
    const turns = (n: number) => (n < step ? (59.8 * n) / 4000 : 598 + (60.3 * (n - step)) / 4000);
    const { frequencies } = measureStream({
      rateHz: 4000,
      frames: 4000 * 20.5,
      nominalHertz: 60,
      columns: [
        (n) =>
          waveAt(turns(n), [
            [1, 1, 0],
            [3, 0.1, 180],
          ]),
        () => 0,
      ],
    });
    expect(Math.abs(frequencies[0]!.hertz - 59.8)).toBeLessThan(0.01);
    expect(Math.abs(frequencies[1]!.hertz - 60.3)).toBeLessThan(0.01);
  });
});

describe('spectra from samples', () => {
  test.each(STATES)(
    '$name: harmonics are within class I, interharmonics too',
    ({ offset, lines }) => {
      const hertz = 60 + offset;
      const { spectra } = measureStream({
        rateHz: RATE,
        frames: 2 * RATE,
        nominalHertz: null,
        columns: [
          (n) => PEAK * waveAt((hertz * n) / RATE, lines),
          (n) => 20 * waveAt((hertz * n) / RATE - 0.1, lines),
        ],
      });
      expect(spectra.length).toBeGreaterThan(5);
      for (const row of spectra.slice(1, -1)) {
        expect(row.hertz).toBeCloseTo(hertz, 2);
        for (const [order, part] of lines) {
          const size = 120 * part;
          const own = row.pairs[0]!.volts;
          const measured =
            order % 1 === 0 ? own.subgroups[order]! : own.interharmonics[Math.floor(order)]!;
          const allowed = part >= 0.01 ? 0.05 * size : 0.0005 * 120;
          expect(Math.abs(measured - size), `order ${order}`).toBeLessThan(allowed);
        }
      }
    },
  );

  test('a generator that drifts 1 Hz a second stays read: third harmonic within class I', () => {
    const turns = (n: number) => (59 * n) / RATE + (0.5 * n * n) / RATE / RATE;
    const { spectra } = measureStream({
      rateHz: RATE,
      frames: 2 * RATE,
      nominalHertz: 60,
      columns: [
        (n) =>
          PEAK *
          waveAt(turns(n), [
            [1, 1, 0],
            [3, 0.05, 0],
          ]),
        () => 0,
      ],
    });
    expect(spectra.length).toBeGreaterThan(5);
    for (const row of spectra.slice(1, -1)) {
      expect(Math.abs(row.pairs[0]!.volts.subgroups[3]! - 6)).toBeLessThan(0.3);
    }
  });

  test.each([
    ['73, 80, 87 %', [0.73, 0.8, 0.87]],
    ['152, 140, 128 %', [1.52, 1.4, 1.28]],
    ['99, 100, 101 %', [0.99, 1, 1.01]],
  ] as const)('unbalance of %s within 0.15 points, distorted', (_name, parts) => {
    const phase = (k: number) => (n: number) =>
      parts[k]! *
      PEAK *
      waveAt((59.2 * n) / RATE - k / 3, [
        [1, 1, 0],
        [3, 0.1, 0],
        [5, 0.05, 0],
      ]);
    const { spectra } = measureStream({
      rateHz: RATE,
      frames: RATE,
      nominalHertz: 60,
      columns: [phase(0), () => 0, phase(1), () => 0, phase(2), () => 0],
    });
    const sum = parts[0] + parts[1] + parts[2];
    const [a, b, c] = parts;
    const exact = Math.sqrt(a * a + b * b + c * c - a * b - b * c - c * a) / sum;
    for (const row of spectra.slice(1, -1)) {
      const found = symmetricalComponents(
        row.pairs.map((pair) => pair.volts.re[1]!),
        row.pairs.map((pair) => pair.volts.im[1]!),
      );
      expect(Math.abs(found.u2 - exact)).toBeLessThan(0.0015);
      expect(Math.abs(found.u0 - exact)).toBeLessThan(0.0015);
    }
  });

  test('where blocks are cut changes nothing, bit for bit', () => {
    const stream = {
      rateHz: 5000,
      frames: 5000,
      nominalHertz: 60,
      columns: [
        (n: number) => PEAK * waveAt((60.2 * n) / 5000, STATES[1].lines),
        (n: number) => 20 * waveAt((60.2 * n) / 5000 - 0.07, STATES[2].lines),
      ],
    } as const;
    const whole = measureStream({ ...stream, blockFrames: 5000 });
    expect(whole.spectra.length).toBeGreaterThan(2);
    for (const blockFrames of [1, 97, 2500]) {
      expect(measureStream({ ...stream, blockFrames })).toEqual(whole);
    }
  });
});
