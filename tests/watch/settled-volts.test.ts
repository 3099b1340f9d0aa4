import { expect, test } from 'vitest';
import { SettledVolts } from '../../shared/watch/settled-volts.ts';

/** Seconds of 50 Hz, a hundred half cycles each, as one entry sees them. */
const after = (...seconds: number[]) => {
  const settled = new SettledVolts(2);
  for (const volts of seconds) for (let half = 0; half < 100; half++) settled.add([volts, 7]);
  return settled;
};

test('the middle of the last five idle seconds, entry by entry', () => {
  expect(after().of(0)).toBeNull();
  expect(after(120).of(0)).toBeCloseTo(120, 9);
  expect(after(120, 290).of(0)).toBeCloseTo(120, 9);
  expect(after(120, 121, 290, 290, 122).of(0)).toBeCloseTo(122, 9);
  expect(after(120, 121, 290, 290, 122).of(1)).toBeCloseTo(7, 9);
});

test('what has changed for good is told after three seconds', () => {
  const before = [240, 240, 240, 240, 240];
  expect(after(...before, 275, 275).of(0)).toBeCloseTo(240, 9);
  expect(after(...before, 275, 275, 275).of(0)).toBeCloseTo(275, 9);
});
