import { describe, expect, test } from 'vitest';
import { readPlate } from '../../shared/protocol/read-plate.ts';

const dual = {
  name: 'Two voltages',
  phases: 1,
  supply: [
    { U1: 120, I1max: 20 },
    { U1: 240, I1max: 25 },
  ],
  ratings: [{ X: 0.3, I2: 180, U2: 23 }],
};
const questions = (plate: unknown) => {
  const read = readPlate(plate);
  return read.ok ? read.questions : [];
};

test('a gun has wire that the plate names by the other unit, and is asked about another', () => {
  const of = (mm: number) =>
    questions({ ...dual, wireInches: [0.03], guns: [{ name: 'left', wireInches: [mm / 25.4] }] });
  expect(of(0.8)).toEqual([]);
  expect(of(1)).toEqual(['Two voltages, gun "left": the plate names no 0.039 in wire.']);
});

describe('a plate of two voltages', () => {
  test('may give its full output on the stronger line alone', () => {
    // 180 A · 23 V = 4,140 W; 120 V · 20 A = 2,400 VA, 240 V · 25 A = 6,000 VA.
    expect(questions(dual)).toEqual([]);
  });

  test('is asked about where even the stronger line carries less than comes out', () => {
    const weak = { ...dual, supply: [dual.supply[0], { U1: 240, I1max: 15 }] };
    expect(questions(weak)).toHaveLength(1);
    expect(questions(weak)[0]).toContain('4140 W come out and 3600 VA go in at 240 V');
  });
});
