import { expect, test } from 'vitest';
import { moved, zoomed } from '../../dashboard/web/src/parts/extent.ts';

const whole = [0, 10] as const;

test('closer keeps the middle, or the place that is asked for', () => {
  expect(zoomed([0, 10], 0.5, whole)).toEqual([2.5, 7.5]);
  expect(zoomed([0, 10], 0.5, whole, 0)).toEqual([0, 5]);
  expect(zoomed([0, 10], 0.5, whole, 10)).toEqual([5, 10]);
});

test('wider than the whole is the whole; there is a closest', () => {
  expect(zoomed([2, 8], 2, whole)).toBeNull();
  const [from, to] = zoomed([5, 5.000_1], 1e-6, whole)!;
  expect(to - from).toBeCloseTo(1e-3, 9);
});

test('moving stops at both ends', () => {
  expect(moved([2, 4], -0.5, whole)).toEqual([1, 3]);
  expect(moved([0, 4], -1, whole)).toEqual([0, 4]);
  expect(moved([5, 9], 1, whole)).toEqual([6, 10]);
});
