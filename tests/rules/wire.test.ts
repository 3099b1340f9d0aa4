import { describe, expect, test } from 'vitest';
import { loopDrop, ohmsPerMetre, runOhms, squareMillimetres } from '../../shared/rules/wire.ts';

const kft = (awg: number | string, celsius = 75, metal: 'copper' | 'aluminium' = 'copper') =>
  ohmsPerMetre({ awg }, metal, 'fixed', celsius) * 304.8;

describe('wire tables', () => {
  test('stranded copper of chapter 9, table 8, not the solid figures that pages mix in', () => {
    expect(kft(14)).toBeCloseTo(3.14, 9);
    expect(kft(12)).toBeCloseTo(1.98, 9);
    expect(kft(10)).toBeCloseTo(1.24, 9);
    expect(kft(8)).toBeCloseTo(0.778, 9);
    expect(kft(12)).not.toBeCloseTo(1.93, 2);
  });

  test.each([
    [14, 2.633],
    [12, 1.66],
    [10, 1.04],
    [8, 0.652],
    [6, 0.412],
  ])('%i AWG stranded at 25 °C', (awg, ohms) => {
    expect(kft(awg, 25)).toBeCloseTo(ohms, 2);
  });

  test('W7: 8 AWG at 25 °C is 0.654 Ω/kft to half a percent', () => {
    expect(kft(8, 25) / 0.654).toBeCloseTo(1, 2);
  });

  test('sections after ASTM B258', () => {
    expect(squareMillimetres({ awg: 14 })).toBeCloseTo(2.081, 3);
    expect(squareMillimetres({ awg: 12 })).toBeCloseTo(3.309, 3);
    expect(squareMillimetres({ awg: 10 })).toBeCloseTo(5.261, 3);
    expect(squareMillimetres({ awg: '1/0' })).toBeCloseTo(53.48, 1);
  });

  test('gauges between the table rows keep the order', () => {
    const falling = [18, 17, 16, 15, 14, 13, 12, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1, '1/0', '2/0'];
    const ohms = falling.map((awg) => kft(awg));
    expect(ohms).toEqual([...ohms].sort((a, b) => b - a));
    const aluminium = falling.slice(2).map((awg) => kft(awg, 75, 'aluminium'));
    expect(aluminium).toEqual([...aluminium].sort((a, b) => b - a));
  });

  test('millimetres: the listed sizes, and between them, and beyond', () => {
    const km = (mm2: number) => ohmsPerMetre({ mm2 }, 'copper', 'flexible', 20) * 1000;
    expect(km(2.5)).toBeCloseTo(7.98, 9);
    expect(km(6)).toBeCloseTo(3.3, 9);
    expect(km(5)).toBeLessThan(km(4));
    expect(km(5)).toBeGreaterThan(km(6));
    expect(km(70)).toBeCloseTo(0.277, 3);
    expect(km(0.75)).toBeCloseTo(26.6, 1);
  });

  test('W6: 100 ft of 16 AWG at 4 A drops 4.0 V', () => {
    expect(loopDrop(4, runOhms({ awg: 16, feet: 100 }, 'fixed', 75))).toBeCloseTo(3.99, 2);
  });

  test.each([
    [12, 11.88],
    [10, 7.44],
    [8, 4.67],
    [6, 2.95],
  ])('W15: 100 ft of %i AWG at 30 A', (awg, volts) => {
    expect(loopDrop(30, runOhms({ awg, feet: 100 }, 'fixed', 75))).toBeCloseTo(volts, 2);
  });
});
