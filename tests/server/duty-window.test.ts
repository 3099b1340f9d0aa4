import { expect, it } from 'vitest';
import { DutyWindow } from '../../dashboard/server/live/duty-window.ts';

it('is the arc-on share of the last ten minutes', () => {
  const duty = new DutyWindow();
  expect(duty.fraction(0)).toBeNull();
  duty.add(1_000, 1_060);
  duty.add(1_200, 1_320);
  expect(duty.fraction(1_320)).toBeCloseTo(180 / 600, 12);
  // The window's start cuts the first arc in two.
  expect(duty.fraction(1_630)).toBeCloseTo(150 / 600, 12);
  expect(duty.fraction(5_000)).toBe(0);
});
