import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import {
  ambientFactor,
  ampacityOf,
  branchAmpacity,
  bundleFactor,
  cordAmpacity,
  type Fixed,
  groupFactor,
  type Loaded,
  loadedConductors,
  tableAmpacity,
} from '../../shared/rules/ampacity.ts';
import { smallConductorMost } from '../../shared/rules/receptacle-pair.ts';

// NEC table 400.5(A)(1), columns A (three loaded) and B (two).
const cords: [awg: number, three: number, two: number][] = [
  [18, 7, 10],
  [17, 9, 12],
  [16, 10, 13],
  [15, 12, 16],
  [14, 15, 18],
  [13, 17, 21],
  [12, 20, 25],
  [11, 23, 27],
  [10, 25, 30],
  [9, 29, 34],
  [8, 35, 40],
  [7, 40, 47],
  [6, 45, 55],
  [5, 52, 62],
  [4, 60, 70],
  [3, 70, 82],
  [2, 80, 95],
];

describe('flexible cords, NEC table 400.5(A)(1)', () => {
  test.each(cords)('%i AWG: %i A of three loaded, %i A of two', (awg, three, two) => {
    expect(cordAmpacity({ awg }, 3)).toBe(three);
    expect(cordAmpacity({ awg }, 2)).toBe(two);
  });

  test('a cord is made for 60 °C: at 40 °C it carries 0.82 of its table', () => {
    // NEC table 310.15(B)(1)(1), 60 °C column, 36 to 40 °C.
    expect(cordAmpacity({ awg: 12, ambientCelsius: 40 }) / 25).toBeCloseTo(0.82, 2);
  });

  // BS 7671:2008, 60 °C rubber, two-core and three-core.
  test.each([
    [4, 30, 26],
    [6, 39, 34],
    [10, 51, 47],
    [16, 73, 63],
    [25, 97, 83],
  ])('%s mm²: %i A of two loaded, %i A of three', (mm2, two, three) => {
    expect(cordAmpacity({ mm2 }, 2)).toBe(two);
    expect(cordAmpacity({ mm2 }, 3)).toBe(three);
  });

  test('between sizes the thinner one counts', () => {
    expect(cordAmpacity({ mm2: 3 })).toBe(23);
    expect(cordAmpacity({ mm2: 5 }, 3)).toBe(26);
  });
});

describe('loaded conductors', () => {
  const one: Circuit = { name: 'c', volts: 240, phases: 1 };
  const three: Circuit = { name: 'c', volts: 208, phases: 3 };

  test('two between two wires, three of three phases, three with a loaded neutral', () => {
    expect(loadedConductors(one, { phases: 1 })).toBe(2);
    expect(loadedConductors(three, { phases: 3 })).toBe(3);
    expect(loadedConductors({ ...one, neutralLoaded: true }, { phases: 1 })).toBe(3);
    expect(loadedConductors({ ...one, neutralLoaded: false }, { phases: 1 })).toBe(2);
  });

  test('the machine says it where there is one, else the circuit', () => {
    expect(loadedConductors(three, { phases: 1 })).toBe(2);
    expect(loadedConductors(three, null)).toBe(3);
    expect(loadedConductors(one, null)).toBe(2);
    expect(loadedConductors(null, null)).toBe(2);
  });
});

describe('building wire, NEC table 310.16', () => {
  test('the newer cells, and 60 °C where nobody said more', () => {
    expect(branchAmpacity({ awg: 14 })).toBe(15);
    expect(branchAmpacity({ awg: 12 })).toBe(20);
    expect(tableAmpacity({ awg: 10 }, 75)).toBe(35);
    expect(tableAmpacity({ awg: 3 }, 90)).toBe(115);
    expect(branchAmpacity({ awg: 8, metal: 'aluminium' })).toBe(35);
    expect(branchAmpacity({ awg: 9 })).toBe(30);
    expect(branchAmpacity({ awg: 16 })).toBe(0);
  });

  // √((Tc − Ta)/(Tc − 30)) against the printed table 310.15(B)(1)(1).
  test.each([
    [60, [0.91, 0.82, 0.71, 0.58, 0.41]],
    [75, [0.94, 0.88, 0.82, 0.75, 0.67]],
    [90, [0.96, 0.91, 0.87, 0.82, 0.76]],
  ])('ambient factors of the %i °C column at 35, 40, 45, 50 and 55 °C', (column, printed) => {
    const factors = [35, 40, 45, 50, 55].map((at) => ambientFactor(column, at));
    expect(factors.map((each) => Math.round(100 * each) / 100)).toEqual(printed);
  });

  test('no factor at 30 °C, more under it down to 10 °C, nothing at the limit', () => {
    expect(ambientFactor(60, 30)).toBe(1);
    // The first rows of both codes' tables: 1.29 of 60 °C, 1.22 of PVC.
    expect(ambientFactor(60, -20)).toBeCloseTo(1.29, 2);
    expect(ambientFactor(70, 0)).toBeCloseTo(1.22, 2);
    expect(ambientFactor(60, 60)).toBe(0);
    expect(ambientFactor(60, 70)).toBe(0);
  });

  test('110.14(C): the 90 °C column is for arithmetic, terminals are the most', () => {
    const wire = { awg: 8, insulationCelsius: 90 } as const;
    expect(branchAmpacity(wire)).toBe(40);
    expect(branchAmpacity({ ...wire, terminalsCelsius: 75 })).toBe(50);
    // 55 A · 0.91 = 50.2 A: still the terminals; · 0.82 at 50 °C = 45 A: the wire.
    expect(branchAmpacity({ ...wire, terminalsCelsius: 75, ambientCelsius: 40 })).toBe(50);
    expect(branchAmpacity({ ...wire, terminalsCelsius: 75, ambientCelsius: 50 })).toBeCloseTo(
      55 * 0.82,
      0,
    );
    // Marked terminals are no better than a wire of 60 °C.
    expect(branchAmpacity({ awg: 8, insulationCelsius: 60, terminalsCelsius: 75 })).toBe(40);
    expect(branchAmpacity({ awg: 8, terminalsCelsius: 75 })).toBe(40);
    // Over 1 AWG terminals are made for 75 °C.
    expect(branchAmpacity({ awg: '1/0' })).toBe(150);
    expect(branchAmpacity({ kcmil: 250, metal: 'aluminium' })).toBe(205);
    expect(branchAmpacity({ awg: 1 })).toBe(110);
  });

  test('conductors in one raceway, NEC table 310.15(C)(1)', () => {
    const share = (circuits: number, loaded: Loaded) => bundleFactor(circuits, loaded);
    expect([share(1, 2), share(1, 3)]).toEqual([1, 1]);
    expect([share(2, 2), share(3, 2), share(2, 3)]).toEqual([0.8, 0.8, 0.8]);
    expect([share(4, 2), share(3, 3)]).toEqual([0.7, 0.7]);
    expect([share(5, 2), share(4, 3), share(6, 3)]).toEqual([0.5, 0.5, 0.5]);
    expect(share(9, 3)).toBe(0.45);
  });

  test('factors multiply', () => {
    const hot = {
      awg: 6,
      insulationCelsius: 75,
      terminalsCelsius: 75,
      ambientCelsius: 40,
    } as const;
    const grouped = { ...hot, groupedCircuits: 3 };
    expect(branchAmpacity(grouped)).toBeCloseTo(65 * 0.882 * 0.8, 1);
    expect(ampacityOf(grouped, 2).by).toMatchObject({
      column: 75,
      ambient: { celsius: 40 },
      grouped: { circuits: 3, factor: 0.8 },
    });
  });
});

describe('metric wire, IEC 60364-5-52', () => {
  const of = (mm2: number, method: 'B1' | 'B2' | 'C', insulationCelsius: 70 | 90): Fixed => ({
    ...{ mm2, method, insulationCelsius },
  });

  // Tables B.52.2 to B.52.5: PVC of two loaded, of three, XLPE of two, of three; B1, B2, C each.
  test.each([
    [1.5, [17.5, 16.5, 19.5, 15.5, 15, 17.5, 23, 22, 24, 20, 19.5, 22]],
    [2.5, [24, 23, 27, 21, 20, 24, 31, 30, 33, 28, 26, 30]],
    [4, [32, 30, 36, 28, 27, 32, 42, 40, 45, 37, 35, 40]],
    [6, [41, 38, 46, 36, 34, 41, 54, 51, 58, 48, 44, 52]],
    [10, [57, 52, 63, 50, 46, 57, 75, 69, 80, 66, 60, 71]],
    [16, [76, 69, 85, 68, 62, 76, 100, 91, 107, 88, 80, 96]],
    [25, [101, 90, 112, 89, 80, 96, 133, 119, 138, 117, 105, 119]],
  ])('%s mm²', (mm2, printed) => {
    const found = ([70, 90] as const).flatMap((celsius) =>
      ([2, 3] as const).flatMap((loaded) =>
        (['B1', 'B2', 'C'] as const).map((method) =>
          branchAmpacity(of(mm2, method, celsius), loaded),
        ),
      ),
    );
    expect(found).toEqual(printed);
  });

  test('method B2 and PVC where nobody said: 4 mm², three loaded, 27 A', () => {
    expect(branchAmpacity({ mm2: 4 }, 3)).toBe(27);
    expect(branchAmpacity({ mm2: 4 }, 2)).toBe(30);
  });

  test('ambient of PVC and XLPE at 25, 35 … 60 °C as printed', () => {
    const at = [25, 35, 40, 45, 50, 55, 60];
    const rounded = (limit: number) =>
      at.map((each) => Math.round(100 * ambientFactor(limit, each)) / 100);
    expect(rounded(70)).toEqual([1.06, 0.94, 0.87, 0.79, 0.71, 0.61, 0.5]);
    expect(rounded(90)).toEqual([1.04, 0.96, 0.91, 0.87, 0.82, 0.76, 0.71]);
  });

  test("a maker's printed row: 10 mm², B2, three loaded, 46 → 40 → 36 → 33 → 28 A", () => {
    const row = [30, 40, 45, 50, 55].map((ambientCelsius) =>
      branchAmpacity({ mm2: 10, ambientCelsius }, 3),
    );
    expect(row.map((amps, at) => Math.abs(amps - [46, 40, 36, 33, 28][at]!) < 0.6)).toEqual([
      ...Array(5).fill(true),
    ]);
  });

  test('grouping, table B.52.17, and factors multiply', () => {
    const printed = [1, 0.8, 0.7, 0.65, 0.6, 0.57, 0.54, 0.52, 0.5];
    expect(printed.map((_, at) => groupFactor(at + 1))).toEqual(printed);
    const wire = { mm2: 6, ambientCelsius: 40, groupedCircuits: 2 };
    expect(branchAmpacity(wire, 3)).toBeCloseTo(34 * 0.866 * 0.8, 1);
  });

  test('aluminium carries less by the root of its resistivity', () => {
    expect(branchAmpacity({ mm2: 25, metal: 'aluminium' })).toBeCloseTo(90 / Math.sqrt(1.639), 6);
  });
});

test('240.4(D): 15, 20 and 30 A over 14, 12 and 10 AWG copper, nothing over thicker', () => {
  expect([14, 13, 12, 11, 10].map((awg) => smallConductorMost({ awg }))).toEqual([
    ...[15, 15, 20, 20, 30],
  ]);
  expect(smallConductorMost({ awg: 8 })).toBe(null);
  expect(smallConductorMost({ awg: '1/0' })).toBe(null);
  expect(smallConductorMost({ mm2: 4 })).toBe(null);
  expect(smallConductorMost({ awg: 12, metal: 'aluminium' })).toBe(15);
  expect(smallConductorMost({ awg: 14, metal: 'aluminium' })).toBe(null);
});

describe('more heat never carries more', () => {
  const wire = fc.record({
    size: fc.constantFrom<Fixed>(
      { awg: 12 },
      { awg: 8, insulationCelsius: 90 },
      { awg: 6, insulationCelsius: 75, terminalsCelsius: 75 },
      { mm2: 4 },
      { mm2: 10, insulationCelsius: 90, method: 'C' },
    ),
    ambientCelsius: fc.integer({ min: -10, max: 59 }),
    groupedCircuits: fc.integer({ min: 1, max: 9 }),
    loaded: fc.constantFrom<Loaded>(2, 3),
  });

  test('warmer air, more circuits beside it, a third loaded conductor', () => {
    fc.assert(
      fc.property(wire, ({ size, loaded, ...laid }) => {
        const carries = (change: Partial<Fixed> = {}, of: Loaded = loaded) =>
          branchAmpacity({ ...size, ...laid, ...change }, of) - 1e-9;
        const now = branchAmpacity({ ...size, ...laid }, loaded);
        expect(carries({ ambientCelsius: laid.ambientCelsius + 5 })).toBeLessThanOrEqual(now);
        const more = Math.min(9, laid.groupedCircuits + 1);
        expect(carries({ groupedCircuits: more })).toBeLessThanOrEqual(now);
        expect(branchAmpacity({ ...size, ...laid }, 3) - 1e-9).toBeLessThanOrEqual(
          branchAmpacity({ ...size, ...laid }, 2),
        );
      }),
    );
  });
});
