import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Awg, Wire, type WireSpec } from '../../simulator/electrics/wire.ts';

const kilofoot = (spec: WireSpec): Wire => new Wire({ feet: 1000, ...spec }, 'fixed');

describe('wire', () => {
  // NEC chapter 9 table 8, stranded uncoated copper at 75 °C, ohm per 1000 ft.
  test.each<[Awg, number]>([
    [16, 4.99],
    [14, 3.14],
    [12, 1.98],
    [10, 1.24],
    [8, 0.778],
    [6, 0.491],
    [4, 0.308],
    [3, 0.245],
    [2, 0.194],
    [1, 0.154],
    ['1/0', 0.122],
  ])('copper %s AWG at 75 °C as printed', (awg, ohms) => {
    expect(kilofoot({ awg }).ohmsAt(75)).toBeCloseTo(ohms, 9);
  });

  // Aluminium strands of that table (from memory), and reactance (table 9, plastic conduit).
  test.each<[Awg, number, number]>([
    [12, 3.25, 0.054],
    [10, 2.04, 0.05],
    [8, 1.28, 0.052],
    [6, 0.808, 0.051],
    [4, 0.508, 0.048],
    [2, 0.319, 0.045],
    ['1/0', 0.201, 0.044],
  ])('aluminium %s AWG, and its reactance, as printed', (awg, ohms, reactance) => {
    const wire = kilofoot({ awg, metal: 'aluminium' });
    expect(wire.ohmsAt(75)).toBeCloseTo(ohms, 9);
    expect(wire.ohmsX60).toBeCloseTo(reactance, 9);
  });

  // K of the K method, R × circular mils, at 75 °C: 12.9 for copper and 21.2 for aluminium.
  test.each<[Awg]>([[14], [12], [10], [8], [6], [4]])('%s AWG keeps the K of its metal', (awg) => {
    const mils = kilofoot({ awg }).squareMm / 5.067075e-4;
    expect((kilofoot({ awg }).ohmsAt(75) * mils) / 1000).toBeCloseTo(12.9, 0);
  });

  // Table 8's note: R2 = R1·[1 + 0.00323·(T − 75)].
  test.each<[Awg, number]>([
    [14, 2.633],
    [12, 1.66],
    [10, 1.04],
    [8, 0.652],
    [6, 0.412],
  ])('%s AWG at 25 °C', (awg, ohms) => {
    expect(Math.abs(kilofoot({ awg }).ohmsAt(25) - ohms)).toBeLessThan(0.0011);
  });

  // IEC 60228, greatest resistance at 20 °C, ohm per km (from memory).
  test.each([
    [2.5, 7.41, 7.98],
    [6, 3.08, 3.3],
    [16, 1.15, 1.21],
  ])('%s mm² fixed and flexible at 20 °C', (mm2, fixed, flexible) => {
    expect(new Wire({ mm2, metres: 1000 }, 'fixed').ohmsAt(20)).toBeCloseTo(fixed, 6);
    expect(new Wire({ mm2, metres: 1000 }, 'cord').ohmsAt(20)).toBeCloseTo(flexible, 6);
  });

  test('metric copper warms as 234.5 + t', () => {
    const wire = new Wire({ mm2: 4, metres: 100 }, 'fixed');
    expect(wire.ohmsAt(70) / wire.ohmsAt(20)).toBeCloseTo(304.5 / 254.5, 9);
  });

  test('at its ampacity a wire settles 45 K over its surroundings', () => {
    const wire = kilofoot({ awg: 12 });
    let ohms = 0;
    for (let slice = 0; slice < 20 * 60 * 320; slice++) ohms = wire.warmUp(25 * 25, 30);
    expect(ohms).toBeCloseTo(wire.ohmsAt(75), 2);
  });

  test('longer or thinner is never less', () => {
    const gauges: Awg[] = [16, 14, 12, 10, 8, 6, 4, 3, 2, 1, '1/0', '2/0', '3/0', '4/0'];
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: gauges.length - 2 }),
        fc.double({ min: 1, max: 500, noNaN: true }),
        fc.double({ min: 0.01, max: 500, noNaN: true }),
        fc.double({ min: -20, max: 90, noNaN: true }),
        (at, feet, more, celsius) => {
          const wire = new Wire({ awg: gauges[at]!, feet }, 'cord');
          const longer = new Wire({ awg: gauges[at]!, feet: feet + more }, 'cord');
          const thicker = new Wire({ awg: gauges[at + 1]!, feet }, 'cord');
          expect(longer.ohmsAt(celsius)).toBeGreaterThan(wire.ohmsAt(celsius));
          expect(thicker.ohmsAt(celsius)).toBeLessThan(wire.ohmsAt(celsius));
        },
      ),
    );
  });
});
