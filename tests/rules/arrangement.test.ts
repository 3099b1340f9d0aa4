import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { loopVolts } from '../../shared/protocol/service.ts';
import { angleBetween, arrangementOf, toldService } from '../../shared/rules/arrangement.ts';
import { carriersOf, hangingOf } from '../../shared/rules/loops.ts';
import { channel, plate } from './given.ts';

type Leg = readonly [volts: number, degrees: number];

/** A row's volts: every leg to neutral, then between them. */
function rowOf(...legs: Leg[]): number[] {
  const side = ([a, p]: Leg, [b, q]: Leg) =>
    Math.sqrt(Math.max(0, a * a + b * b - 2 * a * b * Math.cos(((p - q) * Math.PI) / 180)));
  const pairs = legs.map(([volts]) => volts);
  if (legs.length === 2) return [...pairs, side(legs[0]!, legs[1]!)];
  return [...pairs, ...legs.map((leg, k) => side(leg, legs[(k + 1) % 3]!))];
}

describe('two pairs', () => {
  test.each([
    [180, 'split-phase'],
    [165, 'split-phase'],
    [106, 'wye-208'],
    [120, 'wye-208'],
    [90, 'unknown'],
    [60, 'unknown'],
    [15, 'same-leg'],
    [0, 'same-leg'],
  ])('of 120 V, %s° apart: %s', (degrees, found) => {
    expect(arrangementOf(rowOf([120, 0], [120, degrees]))).toBe(found);
    expect(arrangementOf(rowOf([120, degrees], [120, 0]))).toBe(found);
  });

  test('magnitude is the second witness', () => {
    expect(arrangementOf(rowOf([120, 0], [208, 90]))).toBe('high-leg');
    expect(arrangementOf(rowOf([120, 0], [140, 90]))).toBe('unknown');
    expect(arrangementOf(rowOf([240, 0], [240, 60]))).toBe('corner-grounded');
    expect(arrangementOf(rowOf([120, 0], [60, 120]))).toBe('unknown');
    expect(arrangementOf(rowOf([230, 0], [230, 120]))).toBe('wye-legs');
    // Legs that a failing neutral parts still make up the whole.
    expect(arrangementOf(rowOf([170, 0], [70, 180]))).toBe('split-phase');
    expect(arrangementOf(rowOf([235, 0], [5, 180]))).toBe('missing-phase');
    expect(arrangementOf(rowOf([120, 0], [0, 0]))).toBe('missing-phase');
    expect(arrangementOf(rowOf([5, 0], [4, 180]))).toBe('unknown');
  });
});

describe('three pairs', () => {
  const wye: Leg[] = [
    [120, 0],
    [120, -120],
    [120, 120],
  ];
  test.each<[string, Leg[]]>([
    ['three-phase', wye],
    [
      'three-phase',
      [
        [277, 10],
        [270, -110],
        [280, 130],
      ],
    ],
    [
      'high-leg',
      [
        [120, 0],
        [207.8, 90],
        [120, 180],
      ],
    ],
    [
      'corner-grounded',
      [
        [240, 0],
        [240, 60],
        [0.5, 0],
      ],
    ],
    [
      'missing-phase',
      [
        [120, 0],
        [120, -120],
        [0, 0],
      ],
    ],
    // Back-fed through the machine: half way between the two that are left.
    [
      'missing-phase',
      [
        [120, 0],
        [120, -120],
        [60, -60],
      ],
    ],
    [
      'missing-phase',
      [
        [120, 0],
        [120, 180],
        [0, 0],
      ],
    ],
    [
      'phase-twice',
      [
        [120, 0],
        [120, -120],
        [120, 0],
      ],
    ],
    [
      'same-leg',
      [
        [120, 0],
        [120, 0],
        [120, 0],
      ],
    ],
    // One input reversed: no triangle of a service.
    [
      'unknown',
      [
        [120, 0],
        [120, 60],
        [120, 120],
      ],
    ],
    [
      'unknown',
      [
        [1, 0],
        [1, 0],
        [1, 0],
      ],
    ],
  ])('%s', (found, legs) => {
    for (const order of [
      [0, 1, 2],
      [1, 2, 0],
      [2, 1, 0],
    ])
      expect(arrangementOf(rowOf(...order.map((at) => legs[at]!)))).toBe(found);
  });

  test('line to line, where that was said', () => {
    const lines = rowOf([208, 30], [208, -90], [208, 150]);
    expect(arrangementOf(lines, true)).toBe('three-phase-delta');
    const service = { arrangement: 'three-phase-delta' as const, volts: lines };
    expect(toldService(service).voltsBetween).toEqual([208, 208, 208]);
    expect(arrangementOf(rowOf([208, 30], [104, -150], [104, -150]), true)).toBe('missing-phase');
  });
});

test('the angle by the triangle’s sides; a dead leg has none', () => {
  const property = fc.property(
    fc.double({ min: 90, max: 260, noNaN: true }),
    fc.double({ min: 90, max: 260, noNaN: true }),
    fc.double({ min: 3, max: 177, noNaN: true }),
    (one, other, degrees) => {
      const [a, b, c] = rowOf([one, 0], [other, degrees]) as [number, number, number];
      expect(angleBetween(a, b, c)).toBeCloseTo(degrees, 4);
    },
  );
  fc.assert(property);
  expect(angleBetween(120, 20, 120)).toBeNull();
});

describe('where a machine hangs', () => {
  const of = (U1: number, phases: 1 | 3 = 1) => ({
    ...{ pairs: 2, describedVolts: null },
    plate: { ...plate, phases, supply: [{ U1, I1max: 20 }] },
  });
  const split = rowOf([120, 0], [120, 180]);
  const wye = rowOf([120, 0], [120, -120], [120, 120]);

  test('by the plate, until a current tells', () => {
    expect(hangingOf(of(240), split, null).loops).toEqual([2]);
    expect(hangingOf(of(120), split, null).loops).toEqual([0, 1]);
    expect(hangingOf(of(120), split, [1])).toMatchObject({ loops: [1], ampsPerLine: 1 });
    const three = { ...of(208), pairs: 3 };
    expect(hangingOf(three, wye, null)).toMatchObject({ loops: [3, 4, 5], ampsPerLine: 2 });
    expect(hangingOf(three, wye, [4])).toMatchObject({ loops: [4], ampsPerLine: 2 });
    expect(hangingOf(three, wye, [2])).toMatchObject({ loops: [2], ampsPerLine: 1 });
    const ofThree = hangingOf({ ...of(208, 3), pairs: 3 }, wye, [4]);
    expect(ofThree.loops).toEqual([3, 4, 5]);
    expect(ofThree.ampsPerLine).toBeCloseTo(Math.sqrt(3), 12);
    // (i1 − i2)/2 of three phases: half of √3.
    const ofTwo = hangingOf(of(208, 3), wye.slice(0, 2).concat(208), null);
    expect(ofTwo).toMatchObject({ loops: [2], ampsPerLine: Math.sqrt(3) / 2 });
  });

  test('a plate of two voltages by what the circuit is described as', () => {
    const both = {
      ...of(240),
      plate: { ...plate, supply: [120, 240].map((U1) => ({ U1, I1max: 9 })) },
    };
    expect(hangingOf({ ...both, describedVolts: 240 }, split, null).loops).toEqual([2]);
    expect(hangingOf({ ...both, describedVolts: 120 }, split, null).loops).toEqual([0, 1]);
  });

  test('nobody said anything: every pair by itself', () => {
    const bare = { plate: null, pairs: 2, describedVolts: null };
    expect(hangingOf(bare, split, null).loops).toEqual([0, 1]);
    expect(hangingOf(bare, split, [2]).loops).toEqual([2]);
    expect(hangingOf(bare, null, null)).toEqual({ loops: [0, 1], ampsPerLine: 1, service: null });
  });

  const drawing = (...amps: number[]) =>
    amps.map((meanAmps) => channel({ meanAmps, idleAmps: 0.3 }));
  const carries = (pairs: number, ...amps: number[]) =>
    carriersOf(
      { channels: drawing(...amps.slice(0, pairs)), between: drawing(...amps.slice(pairs)) },
      pairs,
    );

  test('the lines that an arc’s current flows through', () => {
    expect(carriersOf({ channels: drawing(20) }, 1)).toEqual([0]);
    expect(carries(2, 20, 20, 20)).toEqual([2]);
    expect(carries(2, 20, 0.4, 10)).toEqual([0]);
    // The same current on both pairs, in step: one wire measured twice, or one sensor reversed.
    expect(carries(2, 20, 20, 0)).toBeNull();
    expect(carries(2, 1, 1, 1)).toBeNull();
    expect(carries(3, 20, 0.4, 20, 20, 20, 40)).toEqual([5]);
    expect(carries(3, 20, 20, 0.4, 40, 20, 20)).toEqual([3]);
    expect(carries(3, 0.3, 18, 0.3, 18, 18, 0.3)).toEqual([1]);
    expect(carries(3, 15, 15, 15, 26, 26, 26)).toBeNull();
  });

  test('another load’s steady current is no arc’s', () => {
    const lamps = channel({ meanAmps: 12, idleAmps: 12 });
    const [arc] = drawing(20);
    const between = [channel({ meanAmps: Math.sqrt((144 + 400) / 4), idleAmps: 6 })];
    expect(carriersOf({ channels: [arc!, lamps], between }, 2)).toEqual([0]);
  });
});

test('volts of a loop from what the pairs read now, by the angles that were seen', () => {
  const seen = { loops: [2], volts: rowOf([120, 0], [120, 180]) };
  expect(loopVolts(seen, [131, 109])[0]).toBeCloseTo(240, 9);
  const wye = { loops: [2], volts: rowOf([120, 0], [120, -120]) };
  expect(loopVolts(wye, [120, 114])[0]).toBeCloseTo(202.67, 1);
  const three = { loops: [3, 1], volts: rowOf([120, 0], [120, -120], [120, 120]) };
  expect(loopVolts(three, [118, 118, 120])).toEqual([expect.closeTo(118 * Math.sqrt(3), 6), 118]);
});
