import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { causeOf, planRow } from '../../shared/rules/planned-row.ts';
import { plan } from '../../shared/rules/planning.ts';
import { rank } from '../../shared/rules/verdict.ts';
import { circuit, machine, need } from './planning-given.ts';

const lagCos = 0.95;
const lagSin = Math.sqrt(1 - lagCos ** 2);

test('a machine whose output follows the voltage covers what is left of it', () => {
  const low = circuit({ supply: { openVolts: 228, ohmsR: 0.05, ohmsX: 0 } });
  const covers = (minAmps: number, behaviour?: 'constant-power' | 'constant-impedance') =>
    plan([machine(behaviour ? { behaviour } : {})], [low], [need({ minAmps })]).covers[0]!.machines;
  // 220 A at 25 V are 5500 W; with (226 V ÷ 240 V)² of that some 203 A are left.
  for (const behaviour of [undefined, 'constant-power'] as const)
    expect(covers(215, behaviour)).toEqual(['pulse 220']);
  expect(covers(195, 'constant-impedance')).toEqual(['pulse 220']);
  expect(covers(215, 'constant-impedance')).toEqual([]);
  const { uncovered } = plan(
    [machine({ behaviour: 'constant-impedance' })],
    [low],
    [need({ minAmps: 215 })],
  );
  expect(uncovered[0]!.why[0]!.says).toMatch(/On bay 2 its output would fall to 20\d A/);
});

describe('a machine on a circuit', () => {
  test('volts behind the cord, by hand: E − I·(R cosφ + X sinφ)', () => {
    const row = planRow(machine(), circuit({ cords: [{ awg: 12, feet: 50 }] }));
    // 12 AWG: 1.98 Ω/kft at 75 °C, at 40 °C 1 − 0.00323·35 of it; 50 ft there and back.
    const cord = 0.198 * (1 - 0.00323 * 35);
    const drop = 30 * ((0.13 + cord) * lagCos + 0.05 * lagSin);
    expect(row.voltsAtFullLoad).toBeCloseTo(241 - drop, 6);
    expect(row.supply).toBe('measured');
    expect(row.verdict).toBe('adequate');
  });

  test('a sensor at the machine saw the cord already', () => {
    const cords = [{ awg: 12, feet: 50 }];
    const at = (sensorAt: 'outlet' | 'machine') =>
      planRow(machine(), circuit({ cords, sensorAt })).voltsAtFullLoad!;
    expect(at('machine')).toBeCloseTo(241 - 30 * (0.13 * lagCos + 0.05 * lagSin), 6);
    expect(at('outlet')).toBeLessThan(at('machine') - 4);
  });

  test('a described circuit says that it is, with an interval that holds its assumptions', () => {
    const { supply: _, ...described } = circuit({ branch: { awg: 6, feet: 45 } });
    const row = planRow(machine(), described);
    const [lo, hi] = row.volts95!;
    expect(row.supply).toBe('described');
    expect(row.voltsAtFullLoad).toBeGreaterThan(233);
    expect(row.voltsAtFullLoad).toBeLessThan(238);
    expect(hi - lo).toBeGreaterThan(2 * 0.025 * 240);
    const load = row.findings.find(({ rule }) => rule === 'full-load')!;
    expect(load.says).toContain('described');
    expect(load.electrician).toContain('3000 A');
  });

  test('a cord on a described circuit counts wherever its sensor will sit', () => {
    const { supply: _, ...bare } = circuit({ branch: { awg: 6, feet: 45 }, sensorAt: 'machine' });
    const corded = { ...bare, cords: [{ awg: 12, feet: 100 }] };
    const fall =
      planRow(machine(), bare).voltsAtFullLoad! - planRow(machine(), corded).voltsAtFullLoad!;
    expect(fall).toBeCloseTo(30 * 0.396 * (1 - 0.00323 * 35) * lagCos, 6);
  });

  test('a circuit of which only the breaker is known proves nothing', () => {
    const { supply: _, ...bare } = circuit();
    const row = planRow(machine(), bare);
    expect(row).toMatchObject({ verdict: 'unproven', voltsAtFullLoad: null, supply: 'unknown' });
    expect(causeOf(row)?.says).toContain('branch');
  });

  test('a 240-only plate on 208 V is named, one that takes both works by its 208 V line', () => {
    const supply = { openVolts: 208, ohmsR: 0.1, ohmsX: 0.04 };
    const on208 = circuit({ volts: 208, supply });
    const only = planRow(machine(), on208);
    expect(only.verdict).toBe('underpowered');
    expect(causeOf(only)?.says).toBe('This is a 208 V supply under a 240 V plate: 13.3 % under.');
    const both = machine({
      supply: [
        { U1: 240, I1max: 30 },
        { U1: 208, I1max: 34 },
      ],
    });
    const row = planRow(both, on208);
    expect(row).toMatchObject({ verdict: 'adequate', plateVolts: 208 });
    expect(row.voltsAtFullLoad).toBeCloseTo(208 - 34 * (0.1 * lagCos + 0.04 * lagSin), 6);
  });

  test('three phases: one conductor each way of √3; a phase measured, or two of them', () => {
    const plate = machine({ phases: 3, supply: [{ U1: 208, I1max: 30 }] });
    const three = (openVolts: number, ohmsR: number) =>
      planRow(plate, circuit({ volts: 208, phases: 3, supply: { openVolts, ohmsR, ohmsX: 0 } }));
    const phase = three(208 / Math.sqrt(3), 0.1).voltsAtFullLoad!;
    expect(phase).toBeCloseTo(208 - Math.sqrt(3) * 30 * 0.1 * lagCos, 6);
    expect(three(208, 0.2).voltsAtFullLoad).toBeCloseTo(phase, 6);
    const { supply: _, ...described } = circuit({ volts: 208, phases: 3 });
    const row = planRow(plate, { ...described, branch: { awg: 8, feet: 70 } });
    const upstream = 208 / 3_000 / 2 / Math.hypot(1, 1.6);
    const wire = 0.07 * 0.778 * (1 - 0.00323 * 25);
    const x = upstream + 0.07 * 0.05;
    const drop = 30 * Math.sqrt(3) * ((1.6 * upstream + wire) * lagCos + x * lagSin);
    expect(row.voltsAtFullLoad).toBeCloseTo(208 - drop, 6);
  });

  test('a leg of a split phase stands for both', () => {
    const leg = circuit({ supply: { openVolts: 120.5, ohmsR: 0.065, ohmsX: 0.025 } });
    expect(planRow(machine(), leg).voltsAtFullLoad).toBeCloseTo(
      planRow(machine(), circuit()).voltsAtFullLoad!,
      6,
    );
  });

  test('three phases on a circuit that has one, or does not say', () => {
    const row = planRow(machine({ phases: 3 }), circuit());
    expect(row).toMatchObject({ verdict: 'unsuited', voltsAtFullLoad: null });
    expect(causeOf(row)?.says).toContain('three phases');
  });

  test('the interval of the estimate makes marginal of a near miss', () => {
    const supply = (ohmsR95: [number, number]) =>
      circuit({ supply: { openVolts: 231, ohmsR: 0.4, ohmsX: 0, ohmsR95, ohmsX95: [0, 0] } });
    expect(planRow(machine(), supply([0.39, 0.41])).verdict).toBe('adequate');
    expect(planRow(machine(), supply([0.2, 0.6])).verdict).toBe('marginal');
  });

  test('thin branch wire is told although the voltage holds', () => {
    const row = planRow(machine(), circuit({ branch: { awg: 14, feet: 10 } }));
    expect(row.verdict).toBe('underpowered');
    expect(causeOf(row)?.says).toContain('14 AWG');
  });
});

test('a row tells what its cord takes and how long cords may be, measured or described', () => {
  const cords = [{ awg: 12, feet: 50 }];
  const { supply: _, ...described } = circuit({ cords, branch: { awg: 6, feet: 45 } });
  for (const place of [circuit({ cords }), described]) {
    const told = planRow(machine(), place).findings.filter(({ rule }) => rule === 'cord');
    expect(told).toHaveLength(2);
    expect(told[1]!.measured).toBeGreaterThan(0.2);
    expect(told[1]!.says).toMatch(/^The cord takes \d+ % of the whole drop. Longest that pass: /);
  }
});

describe('which machine covers which need', () => {
  const covers = (...[m, n, c]: Parameters<typeof asked>) => asked(m, n, c).covers[0]!.machines;
  const asked = (m = {}, n = {}, c = {}) => plan([machine(m)], [circuit(c)], [need(n)]);
  const why = (...given: Parameters<typeof asked>) =>
    asked(...given).uncovered[0]?.why[0]?.says ?? '';

  test('one that meets all of it', () => {
    expect(covers()).toEqual(['pulse 220']);
  });

  test.each([
    ['process', { processes: ['mig-steel' as const] }, 'not made for MIG on aluminium'],
    ['pulse', { pulse: false }, 'pulse'],
    ['wire', { wireInches: [0.03] }, '0.047'],
    ['wire that the plate does not name', { wireInches: [] }, '0.047'],
    ['output', { ratings: [{ X: 0.4, I2: 179, U2: 23 }] }, '179 A'],
    ['output that the plate does not name', { ratings: [] }, 'no output'],
  ])('lacks %s', (_, lack, says) => {
    expect(covers(lack)).toEqual([]);
    expect(why(lack)).toContain(says);
  });

  test('what a procedure leaves open is not asked, but what the trade asks is', () => {
    const open = { wireInches: undefined, pulse: undefined, minAmps: undefined };
    const plain = { pulse: false, wireInches: [], ratings: [] };
    const asSteel = { name: 'n', process: 'mig-steel' as const };
    expect(plan([machine(plain)], [circuit()], [asSteel]).uncovered).toEqual([]);
    expect(why(plain, open as never)).toContain('pulse');
  });

  test('a 120 V machine may not weld aluminium, nor a dual one on 120 V', () => {
    const light = { volts: 120, supply: { openVolts: 121, ohmsR: 0.1, ohmsX: 0 } };
    expect(why({ supply: [{ U1: 120, I1max: 18 }] }, { minAmps: 60 }, light)).toContain('200–240');
    const dual = {
      supply: [
        { U1: 240, I1max: 30 },
        { U1: 120, I1max: 18 },
      ],
    };
    expect(covers(dual, { minAmps: 60 }, light)).toEqual([]);
    expect(why(dual, { minAmps: 60 }, light)).toContain('no circuit here has');
    expect(covers(dual, { minAmps: 60 })).toEqual(['pulse 220']);
  });

  test('on the weaker line of its plate no more comes out than goes in', () => {
    const light = { volts: 120, supply: { openVolts: 121, ohmsR: 0.1, ohmsX: 0 } };
    const dual = {
      supply: [
        { U1: 240, I1max: 30 },
        { U1: 120, I1max: 18 },
      ],
      ratings: [
        { X: 0.4, I2: 220, U2: 25 },
        { X: 1, I2: 90, U2: 18.5 },
      ],
    };
    const steel = { process: 'mig-steel' as const, wireInches: 0.03, pulse: false };
    expect(covers(dual, { ...steel, minAmps: 90 }, light)).toEqual(['pulse 220']);
    expect(covers(dual, { ...steel, minAmps: 91 }, light)).toEqual([]);
  });

  test('a required class of machine', () => {
    expect(covers({}, { minSupplyVolts: 200 })).toHaveLength(1);
    expect(why({}, { minSupplyVolts: 400 })).toContain('400 V');
  });

  test('a circuit that sags covers nothing, and says so; marginal is told apart', () => {
    const weak = { supply: { openVolts: 238, ohmsR: 1, ohmsX: 0 } };
    expect(why({}, {}, weak)).toMatch(/^Best on bay 2: At the plate's full 30 A/);
    const near = asked({}, {}, { supply: { openVolts: 238, ohmsR: 0.72, ohmsX: 0 } });
    expect(near.covers[0]).toEqual({ need: 'rails', machines: [], marginal: ['pulse 220'] });
    expect(near.uncovered[0]!.says).toContain('measure');
    expect(near.smallestSet).toEqual({ machines: [], price: 0, buy: [] });
  });

  test('what would make the nearest right, as far as the need is still met', () => {
    const thin = {
      supply: { openVolts: 240, ohmsR: 0.3, ohmsX: 0 },
      cords: [{ awg: 14, feet: 100 }],
    };
    const [left] = asked({}, {}, thin).uncovered;
    expect(left!.nearest).toEqual({ machine: 'pulse 220', circuit: 'bay 2' });
    expect(left!.remedies[0]!.changes).toEqual([
      { kind: 'cords', cords: [{ awg: 12, feet: 100 }] },
    ]);
    const settings = (minAmps: number) =>
      asked({}, { minAmps }, thin).uncovered[0]!.remedies.flatMap(({ changes }) =>
        changes.flatMap((each) => (each.kind === 'setting' ? [each.weldAmps!] : [])),
      );
    expect(settings(60)[0]).toBeGreaterThanOrEqual(60);
    expect(settings(200)).toEqual([]);
  });

  test('the better of two circuits decides', () => {
    const weak = circuit({ name: 'yard', supply: { openVolts: 238, ohmsR: 1, ohmsX: 0 } });
    const made = plan([machine()], [weak, circuit()], [need()]);
    expect(made.matrix.map(({ verdict }) => verdict)).toEqual(['underpowered', 'adequate']);
    expect(made.covers[0]!.machines).toEqual(['pulse 220']);
  });
});

test('without needs a plan is of machines on circuits alone', () => {
  const made = plan([machine()], [circuit()], []);
  expect(made.matrix).toHaveLength(1);
  expect(made.smallestSet.machines).toEqual([]);
});

describe('never better by', () => {
  const cases = fc.record({
    ohmsR: fc.double({ min: 0.02, max: 1.2, noNaN: true }),
    ohmsX: fc.double({ min: 0, max: 0.4, noNaN: true }),
    feet: fc.integer({ min: 0, max: 200 }),
    awg: fc.constantFrom<number>(16, 14, 12, 10, 8),
    I1max: fc.integer({ min: 8, max: 60 }),
    // Lower voltage is worse only down from the rated one: above it the class fails.
    openVolts: fc.double({ min: 200, max: 252, noNaN: true }),
    measured: fc.boolean(),
  });
  type Drawn = typeof cases extends fc.Arbitrary<infer T> ? T : never;
  const row = ({ ohmsR, ohmsX, feet, awg, I1max, openVolts, measured }: Drawn) => {
    const plate = machine({ supply: [{ U1: 240, I1max, I1eff: I1max * 0.6 }] });
    const cords = [{ awg, feet }];
    if (measured) return planRow(plate, circuit({ cords, supply: { openVolts, ohmsR, ohmsX } }));
    const { supply: _, ...described } = circuit({ cords, branch: { awg: 8, feet: 100 * ohmsR } });
    return planRow(plate, described);
  };
  const worse: [string, (drawn: Drawn) => Drawn][] = [
    ['more resistance', (drawn) => ({ ...drawn, ohmsR: drawn.ohmsR * 1.3 })],
    ['more reactance', (drawn) => ({ ...drawn, ohmsX: drawn.ohmsX + 0.05 })],
    ['a longer cord', (drawn) => ({ ...drawn, feet: drawn.feet + 20 })],
    ['thinner wire', (drawn) => ({ ...drawn, awg: drawn.awg + 2 })],
    ['more current', (drawn) => ({ ...drawn, I1max: drawn.I1max * 1.2 })],
    ['lower voltage', (drawn) => ({ ...drawn, openVolts: drawn.openVolts * 0.98 })],
  ];
  test.each(worse)('%s', (_, change) => {
    fc.assert(
      fc.property(cases, (drawn) => {
        const [before, after] = [row(drawn), row(change(drawn))];
        expect(rank(after.verdict)).toBeGreaterThanOrEqual(rank(before.verdict));
        expect(after.voltsAtFullLoad!).toBeLessThanOrEqual(before.voltsAtFullLoad! + 1e-9);
      }),
      { numRuns: 200, seed: 21 },
    );
  });
});
