import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Feeder, FeederConductor } from '../../shared/protocol/feeder.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { groupOn } from '../../shared/rules/feeder-group.ts';
import { feederLoad } from '../../shared/rules/feeder-load.ts';
import { plan } from '../../shared/rules/planning.ts';
import { rank } from '../../shared/rules/verdict.ts';
import { dutyMultiplier, groupAmpacity } from '../../shared/rules/welder-ampacity.ts';
import { circuit, machine, need } from './planning-given.ts';

const plate = (name: string, I1max: number, I1eff = I1max, U1 = 240): Plate => ({
  name,
  phases: 1,
  supply: [{ U1, I1max, I1eff }],
});
const outlets = (count: number, volts = 240): Circuit[] =>
  Array.from({ length: count }, (_, at) => ({ name: `outlet ${at}`, volts }));
const feeder = (count: number, change: Partial<Feeder> = {}): Feeder => ({
  name: 'bench feeder',
  volts: 240,
  circuits: outlets(count).map(({ name }) => name),
  ...change,
});
const loadOf = (change: Partial<Feeder>, plates: readonly Plate[], places = outlets(4)) =>
  feederLoad(feeder(places.length, change), places, plates);
const says = (load: ReturnType<typeof loadOf>) => load.findings.map((each) => each.says).join('\n');

/** Twelve machines of the worked example, by their currents, duties and kind. */
const quiz: [I1max: number, duty: number, kind: 'still' | 'motor'][] = [
  [80, 1, 'still'],
  [70, 0.9, 'motor'],
  [60, 0.7, 'still'],
  [50, 0.8, 'still'],
  ...Array.from({ length: 4 }, (): [number, number, 'motor'] => [40, 0.6, 'motor']),
  ...Array.from({ length: 4 }, (): [number, number, 'still'] => [25, 0.4, 'still']),
];

describe('a group of machines on a feeder', () => {
  test('W2: twelve machines ask 337 A; 500 kcmil carries them, 400 kcmil does not', () => {
    const plates = quiz.map(([I1max, duty, kind], at) =>
      plate(`m${at}`, I1max, I1max * dutyMultiplier(duty, kind)),
    );
    const on = (kcmil: number) => loadOf({ conductor: { kcmil } }, plates, outlets(12));
    expect(on(500).groupAmps).toBeCloseTo(336.75, 1);
    expect(on(500)).toMatchObject({ carriesAmps: 380, verdict: 'adequate', fullAmps: 520 });
    expect(on(400)).toMatchObject({ carriesAmps: 335, verdict: 'underpowered' });
  });

  test('the stricter sum stands beside it and holds nothing down', () => {
    const load = loadOf({ conductor: { awg: 4 } }, [plate('a', 40, 22), plate('b', 40, 22)]);
    expect(load).toMatchObject({ groupAmps: 44, fullAmps: 80, verdict: 'adequate' });
    const [byDuty, full] = load.findings;
    expect(byDuty).toMatchObject({ verdict: 'adequate', limit: 44, measured: 70 });
    expect(full).toMatchObject({ verdict: 'marginal', limit: 80, required: false });
    expect(full!.source).toContain('1910.254');
    for (const each of load.findings.slice(0, 2))
      expect(each.electrician).toContain('licensed electrician');
    expect(says(load)).not.toMatch(/complian|conform/);
  });

  test('one machine a circuit: of five on three outlets the three that ask most', () => {
    const plates = [10, 50, 20, 40, 30].map((each) => plate(`${each} A`, each));
    const load = loadOf({}, plates, outlets(3));
    expect(load.machines).toEqual(['50 A', '40 A', '30 A']);
    expect(load.groupAmps).toBeCloseTo(groupAmpacity([50, 40, 30]), 9);
    expect(load.groupAmps).toBeCloseTo(50 + 40 + 0.85 * 30, 9);
  });

  test('a machine stands where its plate suits: 120 V ones on the 120 V outlet alone', () => {
    const places = [...outlets(1), { name: 'bench', volts: 120 }];
    const plates = [plate('a', 20, 11, 120), plate('b', 20, 12, 120), plate('c', 30, 15)];
    const load = feederLoad({ ...feeder(1), circuits: ['outlet 0', 'bench'] }, places, plates);
    expect(load.machines).toEqual(['c', 'b']);
    const three: Plate = { ...plate('d', 90), phases: 3 };
    expect(feederLoad(feeder(1), outlets(1), [three])).toMatchObject({
      machines: [],
      verdict: 'unproven',
    });
  });

  test('the largest gives way to no one: a dual-voltage machine moves over for another', () => {
    const dual: Plate = {
      ...plate('dual', 30),
      supply: [
        { U1: 240, I1max: 30 },
        { U1: 120, I1max: 28 },
      ],
    };
    const places = [...outlets(1), { name: 'bench', volts: 120 }];
    const load = feederLoad({ ...feeder(1), circuits: ['outlet 0', 'bench'] }, places, [
      dual,
      plate('only 240', 20),
    ]);
    expect(load.machines.sort()).toEqual(['dual', 'only 240']);
  });

  test('breaker: holds the group, and is not too large for its wire', () => {
    const on = (breakerAmps: number) =>
      loadOf({ breakerAmps, conductor: { awg: 8 } }, [plate('a', 30, 15), plate('b', 30, 15)]);
    expect(on(20).verdict).toBe('underpowered');
    expect(says(on(40))).toContain('may trip');
    expect(says(on(60))).toContain('60 A breaker is within its rating');
    expect(on(80).findings).toHaveLength(on(60).findings.length);
    expect(says(on(90))).toContain('80 A is the most for 8 AWG');
  });

  test('its breaker: within its rating, may trip, will trip, as its standard has it', () => {
    const pair = [plate('a', 30, 15), plate('b', 30, 15)];
    const on = (breakerAmps: number, change: Partial<Feeder> = {}) =>
      says(loadOf({ breakerAmps, conductor: { awg: 6 }, ...change }, pair));
    // 60 A at once: 120 %, 133 %, 150 % and 200 % of the rating.
    expect(on(50)).toMatch(/At 60 A, 120 % of its rating, a 50 A breaker may trip at any time/);
    expect(on(45)).toMatch(/133 %.*may trip at any time/);
    expect(on(40)).toMatch(/150 %.*within 1 h at the latest/);
    expect(on(30)).toMatch(/200 %.*within 2 min at the latest/);
    const metric = { conductor: { mm2: 16 } };
    expect(on(54, metric)).toMatch(/must hold for 1 h from cold/);
    expect(on(53, metric)).toMatch(/113 %.*may trip at any time/);
    const lasting = loadOf({ breakerAmps: 54, ...metric }, pair).findings.find(({ says: said }) =>
      said.includes('at once it carries'),
    );
    expect(lasting).toMatchObject({ verdict: 'adequate', limit: 60 / 1.13 });
  });

  test('a metric one of three phases takes the column of three loaded conductors', () => {
    const carries = (phases: 1 | 3) =>
      loadOf({ phases, conductor: { mm2: 16 } }, [plate('a', 30)]).carriesAmps;
    expect([carries(1), carries(3)]).toEqual([69, 62]);
  });

  test('nothing described proves nothing', () => {
    expect(loadOf({}, [plate('a', 30)]).verdict).toBe('unproven');
  });
});

describe('voltage at the far end', () => {
  const plates = [40, 30, 20, 10].map((each) => plate(`${each} A`, each));
  const conductor: FeederConductor = { awg: 2, feet: 150 };

  test('by hand: two of four at once, over the panel and the wire', () => {
    const { atOnce } = loadOf({ conductor }, plates);
    expect(atOnce).toMatchObject({ machines: ['40 A', '30 A'], amps: 70, needsVolts: 216 });
    const upstream = 240 / 3_000 / Math.hypot(1, 1.6);
    const wire = 2 * 0.15 * 0.194 * (1 - 0.00323 * 25);
    const reactance = upstream + 2 * 0.15 * 0.05;
    const drop = 70 * ((1.6 * upstream + wire) * 0.95 + reactance * Math.sqrt(1 - 0.95 ** 2));
    expect(atOnce.volts).toBeCloseTo(240 - drop, 6);
    expect(atOnce.volts95![0]).toBeLessThan(atOnce.volts!);
  });

  test('as many as the shop says; else half, and two at least, called common practice', () => {
    const burning = (change: Partial<Feeder>, of = plates) =>
      loadOf({ conductor, ...change }, of, outlets(of.length)).atOnce.machines.length;
    expect(burning({ atOnce: 4 })).toBe(4);
    expect(burning({ atOnce: 1 })).toBe(1);
    expect(burning({}, plates.slice(0, 1))).toBe(1);
    const nine = Array.from({ length: 9 }, (_, at) => plate(`m${at}`, 20));
    expect(burning({}, nine)).toBe(5);
    expect(says(loadOf({ conductor }, plates))).toContain('common practice');
    expect(says(loadOf({ conductor, atOnce: 3 }, plates))).toContain('as the shop says');
  });

  test('feet and metres, AWG and mm², the same wire in either', () => {
    const feet = loadOf({ conductor: { mm2: 35, feet: 100 } }, plates).atOnce.volts!;
    const metres = loadOf({ conductor: { mm2: 35, metres: 30.48 } }, plates).atOnce.volts!;
    expect(feet).toBeCloseTo(metres, 9);
    expect(loadOf({ conductor: { mm2: 35 } }, plates).carriesAmps).toBe(111);
    expect(loadOf({ conductor: { mm2: 35 }, phases: 3 }, plates).carriesAmps).toBe(99);
  });

  test('without a length no voltage is made up', () => {
    const load = loadOf({ conductor: { awg: 2 } }, plates);
    expect(load.atOnce).toMatchObject({ volts: null, volts95: null });
    expect(says(load)).toContain('length is not known');
  });

  test('three phases: √3 where every machine has three, else the loop of two wires', () => {
    const places = outlets(2, 208).map((each): Circuit => ({ ...each, phases: 3 }));
    const three = (name: string): Plate => ({ ...plate(name, 30, 20, 208), phases: 3 });
    const on = (...of: Plate[]) =>
      feederLoad(feeder(2, { volts: 208, phases: 3, conductor }), places, of).atOnce.volts!;
    const spread = on(three('a'), three('b'));
    expect(spread).toBeGreaterThan(on(three('a'), plate('b', 30, 20, 208)));
    expect(208 - spread).toBeCloseTo(
      (208 - on(plate('a', 30, 20, 208), plate('b', 30, 20, 208))) * (Math.sqrt(3) / 2),
      6,
    );
  });
});

test('a plan holds each feeder against what is owned and the smallest set', () => {
  const machines = [
    machine({ name: 'owned', owned: true, processes: ['mig-steel'] }),
    machine({ name: 'wanted' }),
    machine({ name: 'dearer', price: 9_000 }),
  ];
  const of: Feeder = {
    name: 'bays',
    volts: 240,
    circuits: ['bay 2', 'bay 3', 'bay 4'],
    conductor: { awg: 6, feet: 60 },
  };
  const places = [circuit(), circuit({ name: 'bay 3' }), circuit({ name: 'bay 4' })];
  const made = plan(machines, places, [need()], [of]);
  expect(made.smallestSet.buy).toEqual(['wanted']);
  expect(made.feeders).toHaveLength(1);
  expect(made.feeders[0]!.machines.sort()).toEqual(['owned', 'wanted']);
  expect(plan(machines, places, [need()]).feeders).toEqual([]);
  const nothing = [machine({ name: 'a' }), machine({ name: 'b' })];
  expect(plan(nothing, places, [], [of]).feeders[0]!.machines).toEqual(['a', 'b']);
});

describe('never better by', () => {
  const sizes: FeederConductor[] = [
    ...[14, 12, 10, 8, 6, 4, 3, 2, 1].map((awg) => ({ awg })),
    ...(['1/0', '2/0', '3/0', '4/0'] as const).map((awg) => ({ awg })),
    ...[250, 350, 400, 500].map((kcmil) => ({ kcmil })),
  ];
  const metric: FeederConductor[] = [1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120].map(
    (mm2) => ({ mm2 }),
  );
  const cases = fc.record({
    amps: fc.array(fc.integer({ min: 8, max: 80 }), { minLength: 1, maxLength: 7 }),
    duty: fc.double({ min: 0.1, max: 1, noNaN: true }),
    places: fc.integer({ min: 1, max: 6 }),
    size: fc.integer({ min: 1, max: 11 }),
    inMetric: fc.boolean(),
    metal: fc.constantFrom('copper' as const, 'aluminium' as const),
    metres: fc.double({ min: 1, max: 150, noNaN: true }),
    breakerAmps: fc.constantFrom(30, 60, 100, 200),
    phases: fc.constantFrom<1 | 3>(1, 3),
  });
  type Drawn = typeof cases extends fc.Arbitrary<infer T> ? T : never;
  const load = ({ amps, duty, places, size, inMetric, metal, metres, ...rest }: Drawn) =>
    feederLoad(
      feeder(places, {
        ...rest,
        atOnce: 3,
        conductor: { ...(inMetric ? metric : sizes)[size]!, metal, metres },
      }),
      outlets(places),
      amps.map((I1max, at) => plate(`m${at}`, I1max, I1max * Math.sqrt(duty))),
    );
  const worse: [string, (drawn: Drawn) => Drawn][] = [
    ['one more machine', (drawn) => ({ ...drawn, amps: [...drawn.amps, 25] })],
    ['one more outlet', (drawn) => ({ ...drawn, places: drawn.places + 1 })],
    ['more current', (drawn) => ({ ...drawn, amps: drawn.amps.map((each) => each * 1.2) })],
    ['more duty', (drawn) => ({ ...drawn, duty: Math.min(1, drawn.duty * 1.3) })],
    ['a thinner conductor', (drawn) => ({ ...drawn, size: drawn.size - 1 })],
    ['a longer one', (drawn) => ({ ...drawn, metres: drawn.metres * 1.4 })],
    ['aluminium', (drawn) => ({ ...drawn, metal: 'aluminium' })],
  ];
  test.each(worse)('%s', (_, change) => {
    fc.assert(
      fc.property(cases, (drawn) => {
        const [before, after] = [load(drawn), load(change(drawn))];
        expect(rank(after.verdict)).toBeGreaterThanOrEqual(rank(before.verdict));
        expect(after.groupAmps).toBeGreaterThanOrEqual(before.groupAmps - 1e-9);
        expect(after.fullAmps).toBeGreaterThanOrEqual(before.fullAmps - 1e-9);
        expect(after.carriesAmps!).toBeLessThanOrEqual(before.carriesAmps!);
        expect(after.atOnce.volts!).toBeLessThanOrEqual(before.atOnce.volts! + 1e-9);
      }),
      { numRuns: 200, seed: 31 },
    );
  });
});

test('the group is that of brute force on 300 random shops', () => {
  const volts = [120, 240] as const;
  const shop = fc.record({
    places: fc.array(fc.constantFrom(...volts), { minLength: 1, maxLength: 4 }),
    plates: fc.array(
      fc.record({
        amps: fc.integer({ min: 5, max: 60 }),
        takes: fc.constantFrom<readonly number[]>([120], [240], [120, 240]),
      }),
      { maxLength: 5 },
    ),
  });
  fc.assert(
    fc.property(shop, ({ places, plates }) => {
      const on = places.map((each, at): Circuit => ({ name: `c${at}`, volts: each }));
      const list = plates.map(
        ({ amps, takes }, at): Plate => ({
          name: `m${at}`,
          phases: 1,
          supply: takes.map((U1) => ({ U1, I1max: amps, I1eff: amps })),
        }),
      );
      /** Every way to put machines on outlets, one each or none. */
      const best = (at: number, left: readonly number[], so: readonly number[]): number =>
        at === places.length
          ? groupAmpacity(so)
          : Math.max(
              best(at + 1, left, so),
              ...left
                .filter((each) => plates[each]!.takes.includes(places[at]!))
                .map((each) =>
                  best(
                    at + 1,
                    left.filter((other) => other !== each),
                    [...so, plates[each]!.amps],
                  ),
                ),
            );
      const right = best(
        0,
        plates.map((_, at) => at),
        [],
      );
      const { byEffective } = groupOn(240, on, list);
      expect(groupAmpacity(byEffective.map(({ effectiveAmps }) => effectiveAmps))).toBeCloseTo(
        right,
        9,
      );
    }),
    { numRuns: 300, seed: 32 },
  );
});
