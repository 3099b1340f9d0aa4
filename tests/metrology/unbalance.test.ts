import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { symmetricalComponents } from '../../shared/metrology/unbalance.ts';

const polar = (phases: readonly (readonly [size: number, degrees: number])[]) => ({
  re: phases.map(([size, degrees]) => size * Math.cos((degrees * Math.PI) / 180)),
  im: phases.map(([size, degrees]) => size * Math.sin((degrees * Math.PI) / 180)),
});

const of = (phases: Parameters<typeof polar>[0]) => {
  const { re, im } = polar(phases);
  return symmetricalComponents(re, im);
};

describe('symmetricalComponents', () => {
  test('a balanced set is all positive sequence', () => {
    const found = of([
      [230, 17],
      [230, -103],
      [230, 137],
    ]);
    expect(found.positive).toBeCloseTo(230, 10);
    expect(found.u2).toBeLessThan(1e-15);
    expect(found.u0).toBeLessThan(1e-15);
  });

  test('two phases exchanged: all negative', () => {
    const found = of([
      [230, 0],
      [230, 120],
      [230, -120],
    ]);
    expect(found.negative).toBeCloseTo(230, 10);
    expect(found.positive).toBeLessThan(1e-12);
  });

  test('one phase lost: positive 2/3, negative and zero 1/3, so both are 50 %', () => {
    const found = of([
      [0, 0],
      [120, -120],
      [120, 120],
    ]);
    expect(found.positive).toBeCloseTo(80, 10);
    expect(found.u2).toBeCloseTo(0.5, 12);
    expect(found.u0).toBeCloseTo(0.5, 12);
  });

  test('magnitudes 73, 80 and 87 % (state 2 of IEC 61000-4-30, 6.2): 5.05 % each', () => {
    // |73 + 80a² + 87a| = √(73² + 80² + 87² − 73·80 − 80·87 − 87·73) = √147, of a sum of 240.
    const found = of([
      [73, 0],
      [80, -120],
      [87, 120],
    ]);
    expect(found.u2).toBeCloseTo(Math.sqrt(147) / 240, 12);
    expect(found.u0).toBeCloseTo(Math.sqrt(147) / 240, 12);
  });

  test('mixed from known components, each comes back', () => {
    const part = fc.double({ min: 0, max: 50, noNaN: true });
    const angle = fc.double({ min: -180, max: 180, noNaN: true });
    fc.assert(
      fc.property(part, angle, part, angle, (negative, a2, zero, a0) => {
        const sum = [0, 1, 2].map((phase) => {
          const { re, im } = polar([
            [230, -120 * phase],
            [negative, a2 + 120 * phase],
            [zero, a0],
          ]);
          return { re: re[0]! + re[1]! + re[2]!, im: im[0]! + im[1]! + im[2]! };
        });
        const found = symmetricalComponents(
          sum.map((s) => s.re),
          sum.map((s) => s.im),
        );
        expect(found.positive).toBeCloseTo(230, 9);
        expect(found.u2).toBeCloseTo(negative / 230, 11);
        expect(found.u0).toBeCloseTo(zero / 230, 11);
      }),
    );
  });
});
