import { describe, expect, it, test } from 'vitest';
import { namesWire, wireCalled, wireTyped } from '../../shared/protocol/wire-size.ts';
import { bestGun } from '../../shared/rules/planned-needs.ts';

/** The same wire as it is sold by inches and by millimetres: common practice, no source. */
const sold: [inches: number, mm: number][] = [
  [0.023, 0.6],
  [0.03, 0.8],
  [0.035, 0.9],
  [0.04, 1],
  [0.045, 1.2],
  [0.047, 1.2],
  [0.0625, 1.6],
];

describe('a size of wire', () => {
  it.each(sold)('of %f in and of %f mm is the same', (inches, mm) => {
    expect(namesWire([inches], mm / 25.4)).toBe(true);
    expect(namesWire([mm / 25.4], inches)).toBe(true);
  });

  it.each(sold)('of %f in or %f mm is none of the others', (inches, mm) => {
    const others = sold.filter(([, each]) => each !== mm);
    for (const [other, otherMm] of others) {
      expect(namesWire([inches], otherMm / 25.4)).toBe(false);
      expect(namesWire([other], mm / 25.4)).toBe(false);
    }
  });
});

describe('a size of wire, in the unit of a device,', () => {
  it.each(sold)('of %f in is called %f mm, and there and back is the same', (inches, mm) => {
    expect(wireCalled(inches, 'inches')).toBe(inches);
    expect(wireCalled(inches, 'mm')).toBe(mm);
    expect(wireCalled(mm / 25.4, 'mm')).toBe(mm);
    expect(wireTyped(mm, 'mm', [inches])).toBe(inches);
    expect(namesWire([inches], wireTyped(mm, 'mm', []))).toBe(true);
  });

  test('that was typed in millimetres is called as it is sold by inches', () => {
    expect(wireCalled(0.8 / 25.4, 'inches')).toBe(0.03);
  });

  test('that nobody sells keeps its own figure', () => {
    expect([wireCalled(0.094, 'mm'), wireCalled(2 / 25.4, 'inches')]).toEqual([2.39, 0.0787]);
    expect([wireCalled(0.052, 'inches'), wireTyped(0.052, 'inches', [0.047])]).toEqual([
      0.052, 0.052,
    ]);
  });
});

test('a plan takes wire by millimetres as a weld does', () => {
  const supply = { U1: 240, I1max: 30 };
  const machine = {
    ...{ name: 'Tern 220', phases: 1 as const, supply: [supply], owned: true },
    ...{ processes: ['mig-steel' as const], wireInches: [0.03] },
  };
  const need = { name: 'floor', process: 'mig-steel' as const };
  const says = (mm: number) =>
    bestGun(machine, supply, { ...need, wireInches: mm / 25.4 }).lacks.map(({ says }) => says);
  expect(says(0.8)).toEqual([]);
  expect(says(1)).toEqual(['The plate names no wire of 0.039 in (1.0 mm).']);
});
