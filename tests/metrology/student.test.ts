import { describe, expect, test } from 'vitest';
import { studentFactor95 } from '../../shared/metrology/student.ts';

describe("Student's factor for 95 %", () => {
  // Two-sided 5 % points as in JCGM 100, table G.2.
  test.each([
    [2, 4.303, 0.008],
    [3, 3.182, 0.002],
    [5, 2.571, 0.0003],
    [10, 2.228, 0.0002],
    [30, 2.042, 0.0002],
  ])('%d degrees of freedom: %d', (degrees, factor, part) => {
    expect(Math.abs(studentFactor95(degrees) / factor - 1)).toBeLessThan(part);
  });

  test('without end it is the normal 1.960', () => {
    expect(studentFactor95(Number.POSITIVE_INFINITY)).toBeCloseTo(1.959964, 6);
  });
});
