import { describe, expect, test } from 'vitest';
import { branchAmpacity, tableAmpacity } from '../../shared/rules/ampacity.ts';
import {
  dutyMultiplier,
  groupAmpacity,
  largestBreaker,
  leastAmpacity,
} from '../../shared/rules/welder-ampacity.ts';

const at = (amps: number, duty: number, kind?: 'motor') => amps * dutyMultiplier(duty, kind);

describe('conductors of welders', () => {
  test('a machine without a motor: the square root of duty within 0.006 at every row', () => {
    for (const duty of [0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1])
      expect(Math.abs(dutyMultiplier(duty) - Math.sqrt(duty))).toBeLessThan(0.006);
  });

  test('between rows the next higher duty counts', () => {
    expect(dutyMultiplier(0.31)).toBe(0.63);
    expect(dutyMultiplier(0.05)).toBe(0.45);
  });

  test('W1: 40 A at 50 % is 28.4 A', () => {
    expect(at(40, 0.5)).toBeCloseTo(28.4, 9);
    expect(tableAmpacity({ awg: 10 }, 75)).toBeGreaterThanOrEqual(28.4);
  });

  test('W2: the group of twelve asks 337 A', () => {
    const each = [
      at(80, 1),
      at(70, 0.9, 'motor'),
      at(60, 0.7),
      at(50, 0.8),
      ...Array.from({ length: 4 }, () => at(40, 0.6, 'motor')),
      ...Array.from({ length: 4 }, () => at(25, 0.4)),
    ];
    expect(groupAmpacity(each)).toBeCloseTo(336.75, 1);
  });

  test('W3, W4, W5', () => {
    expect(at(50, 0.2)).toBeCloseTo(22.5, 9);
    expect(branchAmpacity({ awg: 12 })).toBeLessThan(22.5);
    expect(branchAmpacity({ awg: 10 })).toBeGreaterThanOrEqual(22.5);
    expect(at(57, 0.3)).toBeCloseTo(31.35, 9);
    expect(at(47.5, 0.2)).toBeCloseTo(21.375, 9);
  });

  test('trap: 40 A at 30 % is 22 A, not 12 A', () => {
    expect(at(40, 0.3)).toBeCloseTo(22, 9);
    expect(at(40, 0.3)).not.toBeCloseTo(12, 0);
  });

  test("trap: the breaker may be 200 % of the wire's ampacity, not of the least one", () => {
    expect(largestBreaker(2 * tableAmpacity({ awg: 12 }, 75))).toBe(50);
    expect(largestBreaker(2 * 47.5)).toBe(100);
    expect(largestBreaker(2 * 21.375)).not.toBe(50);
  });

  test("the plate's I1eff rules where given; else I1max at the duty of the top output", () => {
    expect(leastAmpacity({ U1: 240, I1max: 30, I1eff: 15 }, undefined)).toBe(15);
    const ratings = [
      { X: 0.3, I2: 180, U2: 23 },
      { X: 1, I2: 100, U2: 19 },
    ];
    expect(leastAmpacity({ U1: 240, I1max: 30 }, ratings)).toBeCloseTo(30 * 0.55, 9);
    expect(leastAmpacity({ U1: 240, I1max: 30 }, undefined)).toBe(30);
  });
});
