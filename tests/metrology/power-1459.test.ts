import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Phasors, power1459 } from '../../shared/metrology/power-1459.ts';

/** Orders with r.m.s. size and angle in degrees, sine reference, as the textbook prints them. */
function phasors(lines: readonly (readonly [order: number, size: number, degrees: number])[]) {
  const list: Phasors = { re: new Float64Array(51), im: new Float64Array(51) };
  for (const [order, size, degrees] of lines) {
    list.re[order] = size * Math.cos((degrees * Math.PI) / 180);
    list.im[order] = size * Math.sin((degrees * Math.PI) / 180);
  }
  return list;
}

/** The numerical example printed with IEEE 1459: inputs from memory, results by plain sums. */
const volts = phasors([
  [1, 100, 0],
  [3, 8, -70],
  [5, 15, 140],
  [7, 5, 20],
]);
const amps = phasors([
  [1, 100, -30],
  [3, 20, -165],
  [5, 15, 233],
  [7, 10, 288],
]);

describe('power1459', () => {
  test('gives the textbook example to 1e-6', () => {
    const power = power1459(volts, amps);
    const rad = Math.PI / 180;
    const VH = Math.sqrt(8 ** 2 + 15 ** 2 + 5 ** 2);
    const IH = Math.sqrt(20 ** 2 + 15 ** 2 + 10 ** 2);
    const PH = 160 * Math.cos(95 * rad) + 225 * Math.cos(93 * rad) + 50 * Math.cos(268 * rad);
    const V = Math.hypot(100, VH);
    const I = Math.hypot(100, IH);
    const P1 = 10_000 * Math.cos(30 * rad);
    const exact = {
      V,
      I,
      P: P1 + PH,
      S: V * I,
      N: Math.sqrt((V * I) ** 2 - (P1 + PH) ** 2),
      PF: (P1 + PH) / (V * I),
      V1: 100,
      I1: 100,
      P1,
      Q1: 5000,
      S1: 10_000,
      PF1: Math.cos(30 * rad),
      PH,
      SN: Math.sqrt((V * I) ** 2 - 1e8),
      DI: 100 * IH,
      DV: 100 * VH,
      SH: VH * IH,
      DH: Math.sqrt((VH * IH) ** 2 - PH ** 2),
      THDV: VH / 100,
      THDI: IH / 100,
    };
    for (const [key, value] of Object.entries(exact)) {
      const measured = power[key as keyof typeof power];
      expect(Math.abs(measured - value), key).toBeLessThan(1e-6 * Math.abs(value));
    }
  });

  test('gives the figures as they are printed', () => {
    const power = power1459(volts, amps);
    const printed = {
      V: 101.5579,
      I: 103.5616,
      P1: 8660.254,
      Q1: 5000,
      PH: -27.465,
      P: 8632.789,
      S1: 10_000,
      S: 10_517.493,
      SN: 3258.474,
      DI: 2692.582,
      DV: 1772.005,
      SH: 477.127,
      DH: 476.336,
      N: 6007.713,
      THDV: 0.1772,
      THDI: 0.26926,
      PF1: 0.86603,
      PF: 0.8208,
    };
    for (const [key, value] of Object.entries(printed)) {
      const measured = power[key as keyof typeof power];
      expect(Math.abs(measured - value), key).toBeLessThan(6e-6 * Math.abs(value) + 5e-4);
    }
  });

  test('with little voltage distortion PF is PF1/√(1 + THDI²): 0.693 at 100 %', () => {
    const angle = (Math.acos(0.98) * 180) / Math.PI;
    for (const [thd, percent] of [
      [1, 69.3],
      [0.8, 76.5],
      [1.2, 62.7],
    ] as const) {
      const load = phasors([
        [1, 10, -angle],
        [3, 10 * thd, 30],
      ]);
      expect(100 * power1459(phasors([[1, 120, 0]]), load).PF).toBeCloseTo(percent, 1);
    }
  });

  test('takes r.m.s. values and watts of the whole waveform where they are given', () => {
    const whole = { volts: 102, amps: 105, watts: 8600 };
    const power = power1459(volts, amps, whole);
    expect(power.S).toBe(102 * 105);
    expect(power.PH).toBeCloseTo(8600 - 8660.254, 3);
    expect(power.THDV).toBeCloseTo(Math.sqrt(102 ** 2 - 1e4) / 100, 12);
  });

  test('turned by any angle of each order it stays: no reference instant matters', () => {
    fc.assert(
      fc.property(fc.double({ min: -10, max: 10, noNaN: true }), (shift) => {
        const turned = (list: Phasors): Phasors => ({
          re: list.re.map((re, h) => re * Math.cos(h * shift) - list.im[h]! * Math.sin(h * shift)),
          im: list.im.map((im, h) => im * Math.cos(h * shift) + list.re[h]! * Math.sin(h * shift)),
        });
        const power = power1459(turned(volts), turned(amps));
        expect(power.P).toBeCloseTo(8632.789, 2);
        expect(power.Q1).toBeCloseTo(5000, 6);
      }),
    );
  });

  test('without current the ratios are unknown, not nil', () => {
    const power = power1459(volts, phasors([]));
    expect(power.P).toBe(0);
    expect(power.N).toBe(0);
    expect(power.PF).toBeNaN();
    expect(power.PF1).toBeNaN();
    expect(power.THDI).toBeNaN();
  });
});
