import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import type { Arrangement } from '../../shared/protocol/service.ts';
import { isAtLeast } from '../../shared/rules/verdict.ts';
import { Random } from '../../simulator/electrics/random.ts';
import { judged } from './judged.ts';
import {
  degrees,
  type Hangs,
  minus,
  type Phasor,
  sampled,
  terminalVolts,
  type Wires,
} from './wires.ts';

const seeds = [1, 2];

/** A machine for one phase or three, that takes `amps` of a line at U1. */
const plateOf = (U1: number, phases: 1 | 3 = 1, amps = 28): Plate => ({
  name: 'drawn',
  phases,
  hertz: [50, 60],
  supply: [{ U1, I1max: amps, I1eff: amps / 2 }],
});

/** Wires of a healthy shop, drawn from a seed; `turn` is where the voltages stand at first. */
function drawn(seed: number, emfs: readonly Phasor[], hangs: Hangs, change: Partial<Wires> = {}) {
  const random = new Random(seed, 'services');
  const between = (low: number, high: number) => low + (high - low) * random.unit();
  const [turn, level] = [between(0, 2 * Math.PI), between(0.985, 1.02)];
  const wires: Wires = {
    ...{ rateHz: 5_120, hertz: between(59.9, 60.1), seconds: 9 },
    emfs: emfs.map(([size, angle]) => [size * level, angle + turn] as const),
    ...{ ohmsR: between(0.02, 0.06), ohmsX: between(0.01, 0.03), neutralOhms: between(0.02, 0.06) },
    ...{ hangs, amps: between(18, 24), lag: between(0, 0.3), idleAmps: between(0.1, 0.5) },
    arcs: [
      { startS: 1.3, endS: 3.1 },
      { startS: 4.2, endS: 6.4 },
      { startS: 7.1, endS: 8.6 },
    ],
    ...{ noiseVolts: 0.05, noiseAmps: 0.02 },
    ...change,
  };
  return wires;
}

const judge = (wires: Wires, seed: number, plate: Plate, circuit?: Circuit): Judgement =>
  judged(wires.rateHz, sampled(wires, seed), circuit ? { plate, circuit } : { plate });

const verdictOf = ({ findings }: Judgement, rule: string) =>
  findings.find((finding) => finding.rule === rule)!.verdict;
const foretold = ({ findings }: Judgement) =>
  findings.find((finding) => finding.rule === 'full-load')!;

const at = (size: number, ...angles: number[]): Phasor[] =>
  angles.map((angle) => [size, degrees(angle)]);
const split = at(120, 0, 180);
const wye = at(120, 0, -120, 120);
const twoOfWye = at(120, 0, -120);
const highLeg: Phasor[] = [...at(120, 0), ...at(120 * Math.sqrt(3), 90), ...at(120, 180)];
const european = at(230, 0, -120, 120);
const corner = at(240, 0, 60);
const line = (of: number): Hangs => ({ kind: 'line', line: of });
const lines = (one: number, other: number): Hangs => ({ kind: 'lines', one, other });
const three: Hangs = { kind: 'three' };

/** Healthy: what feeds it, where it hangs, and what its plate asks. */
const healthy: [string, Phasor[], Hangs, Plate, Arrangement][] = [
  ['240 V on a split phase', split, lines(0, 1), plateOf(240), 'split-phase'],
  ['120 V on the first leg', split, line(0), plateOf(120), 'split-phase'],
  ['120 V on the second leg', split, line(1), plateOf(120), 'split-phase'],
  ['208 V on two legs of a wye', twoOfWye, lines(0, 1), plateOf(208), 'wye-208'],
  ['120 V on one of two legs of a wye', twoOfWye, line(1), plateOf(120), 'wye-208'],
  ['400 V on two legs of a wye', european.slice(0, 2), lines(0, 1), plateOf(400), 'wye-legs'],
  ['230 V to neutral of a wye', european.slice(0, 2), line(0), plateOf(230), 'wye-legs'],
  ['240 V on a corner-grounded delta', corner, lines(0, 1), plateOf(240), 'corner-grounded'],
  ['240 V, one line and the grounded one', corner, line(1), plateOf(240), 'corner-grounded'],
  [
    '240 V over the high leg, two pairs',
    highLeg.slice(0, 2),
    lines(0, 1),
    plateOf(240),
    'high-leg',
  ],
  ['three phases of a wye', wye, three, plateOf(208, 3), 'three-phase'],
  ['three phases at 400 V', european, three, plateOf(400, 3), 'three-phase'],
  ['208 V on two lines of three', wye, lines(2, 0), plateOf(208), 'three-phase'],
  ['208 V on the next two', wye, lines(1, 2), plateOf(208), 'three-phase'],
  ['120 V on one line of three', wye, line(2), plateOf(120), 'three-phase'],
  ['three phases of a high-leg delta', highLeg, three, plateOf(240, 3), 'high-leg'],
  ['240 V between the outer lines of it', highLeg, lines(0, 2), plateOf(240), 'high-leg'],
  ['240 V over its high leg', highLeg, lines(1, 2), plateOf(240), 'high-leg'],
  ['120 V beside its high leg', highLeg, line(2), plateOf(120), 'high-leg'],
  [
    'three phases, corner grounded',
    [...corner, [0.2, 0]],
    three,
    plateOf(240, 3),
    'corner-grounded',
  ],
];

describe('a healthy service feeds a machine that hangs where it should', () => {
  test.each(healthy)('%s', (_, emfs, hangs, plate, arrangement) => {
    for (const seed of seeds) {
      const wires = drawn(seed, emfs, hangs);
      const judgement = judge(wires, seed, plate);
      expect(judgement.service!.arrangement).toBe(arrangement);
      expect(judgement.verdict).toBe('adequate');
      const { measured, interval } = foretold(judgement);
      const full = terminalVolts(wires, plate.supply[0]!.I1max);
      expect(interval![0]).toBeLessThan(full);
      expect(interval![1]).toBeGreaterThan(full);
      expect(Math.abs(measured! / full - 1)).toBeLessThan(0.004);
      const low = judgement.findings.find(({ rule }) => rule === 'plate-voltage')!;
      expect(low.measured! / terminalVolts(wires, wires.amps)).toBeCloseTo(1, 2);
    }
  });

  test.each(healthy)('%s behind thin wires is not adequate', (_, emfs, hangs, plate) => {
    const [{ U1, I1max }] = plate.supply as [Plate['supply'][number]];
    for (const seed of seeds) {
      // An eighth of U1 at the plate's current, there and back, or √3 of one line's.
      const ways = hangs.kind === 'three' ? Math.sqrt(3) : 2;
      const ohms = (0.125 * U1) / (ways * I1max);
      const wires = drawn(seed, emfs, hangs, { ohmsR: ohms, neutralOhms: ohms });
      const judgement = judge(wires, seed, plate);
      const full = terminalVolts(wires, I1max);
      expect(full).toBeLessThan(0.92 * U1);
      expect(isAtLeast(judgement.verdict, 'marginal')).toBe(true);
      expect(foretold(judgement).measured! / full).toBeCloseTo(1, 2);
    }
  });

  test('the same whichever pair comes first', () => {
    const cases = fc.constantFrom(...healthy);
    const property = fc.property(
      cases,
      fc.integer({ min: 1, max: 99 }),
      fc.nat(5),
      (of, seed, n) => {
        const [, emfs, hangs, plate] = of;
        const wires = drawn(seed, emfs, hangs, { seconds: 5 });
        const columns = sampled(wires, seed);
        const order = (emfs.length === 2 ? twos : threes)[n % (emfs.length === 2 ? 2 : 6)]!;
        const swapped = order.flatMap((pair) => columns.slice(2 * pair, 2 * pair + 2));
        const [one, other] = [columns, swapped].map((each) => judged(5_120, each, { plate }));
        expect(other!.verdict).toBe(one!.verdict);
        expect(other!.service!.arrangement).toBe(one!.service!.arrangement);
        expect(foretold(other!).measured! / foretold(one!).measured!).toBeCloseTo(1, 4);
      },
    );
    fc.assert(property, { numRuns: 40 });
  });
});

const twos = [
  [0, 1],
  [1, 0],
];
const threes = [
  [0, 1, 2],
  [0, 2, 1],
  [1, 0, 2],
  [1, 2, 0],
  [2, 0, 1],
  [2, 1, 0],
];

describe('two legs of 208Y/120 under a 240 V plate', () => {
  const circuitOf = (volts: number): Circuit => ({ name: 'c', volts, phases: 1 });
  const weldless = { arcs: [] };

  test.each([null, 208, 240])('are told before any weld; the circuit says %s V', (volts) => {
    for (const seed of seeds) {
      const wires = drawn(seed, twoOfWye, lines(0, 1), weldless);
      const circuit = volts === null ? undefined : circuitOf(volts);
      const judgement = judge(wires, seed, plateOf(240), circuit);
      expect(judgement.service!.arrangement).toBe('wye-208');
      expect(verdictOf(judgement, 'voltage-class')).toBe('underpowered');
      expect(judgement.verdict).toBe('underpowered');
      const words = judgement.findings.find(({ rule }) => rule === 'voltage-class')!.says;
      expect(words).toContain('208 V service');
    }
  });

  test('are a 208 V service on a high day too', () => {
    // 127 V a leg makes 220 V: within 10 % of 240 V, and still no 240 V service.
    const wires = drawn(1, at(127, 0, -120), lines(0, 1), weldless);
    const judgement = judge(wires, 1, plateOf(240), circuitOf(240));
    expect(verdictOf(judgement, 'voltage-class')).toBe('underpowered');
  });

  test('so are the three of it under a 240 V plate', () => {
    for (const volts of [121, 127]) {
      const wires = drawn(1, at(volts, 0, -120, 120), three, weldless);
      const circuit: Circuit = { name: 'c', volts: 240, phases: 3 };
      const judgement = judge(wires, 1, plateOf(240, 3), circuit);
      const found = judgement.findings.find(({ rule }) => rule === 'voltage-class')!;
      expect(found.verdict).toBe('underpowered');
      expect(found.says).toContain('208 V service');
    }
  });

  test('are underpowered when welded on, whatever the circuit is called', () => {
    for (const seed of seeds) {
      const wires = drawn(seed, twoOfWye, lines(0, 1));
      const judgement = judge(wires, seed, plateOf(240), circuitOf(240));
      expect(judgement.verdict).toBe('underpowered');
      expect(foretold(judgement).measured! / terminalVolts(wires, 28)).toBeCloseTo(1, 2);
    }
  });
});

test('a 120 V machine on one leg of a circuit that is called 240 V', () => {
  const circuit: Circuit = { name: 'c', volts: 240, phases: 1, dedicated: true };
  for (const leg of [0, 1]) {
    const judgement = judge(drawn(3, split, line(leg)), 3, plateOf(120), circuit);
    expect(judgement.nominal.volts).toBe(120);
    expect(judgement.sags).toEqual([]);
    expect(judgement.verdict).toBe('adequate');
  }
});

describe('what a sensor saw twice, or not at all', () => {
  const never = (name: string, emfs: Phasor[], hangs: Hangs, plate: Plate, found: Arrangement) =>
    [name, emfs, hangs, plate, found] as const;
  test.each([
    never('both pairs on one leg', at(120, 0, 0), lines(0, 1), plateOf(240), 'same-leg'),
    never('both pairs on one leg, 120 V', at(120, 0, 0), line(0), plateOf(120), 'same-leg'),
    never('a phase twice', at(120, 0, -120, 0), three, plateOf(208, 3), 'phase-twice'),
    never('a dead phase', [...at(120, 0, -120), [0, 0]], three, plateOf(208, 3), 'missing-phase'),
    never('one phase for three', at(208, 0), line(0), plateOf(208, 3), 'single'),
    never('two phases for three', twoOfWye, lines(0, 1), plateOf(208, 3), 'wye-208'),
    never(
      'a leg that is dead',
      [...at(120, 0), [0, 0]],
      lines(0, 1),
      plateOf(240),
      'missing-phase',
    ),
    never('an input that is reversed', at(120, 0, 60), lines(0, 1), plateOf(208), 'unknown'),
  ])('%s is never adequate', (_, emfs, hangs, plate, arrangement) => {
    for (const seed of seeds) {
      const judgement = judge(drawn(seed, emfs, hangs), seed, plate);
      expect(judgement.service!.arrangement).toBe(arrangement);
      expect(isAtLeast(judgement.verdict, 'unproven')).toBe(true);
      const finding = judgement.findings.find(({ rule }) => rule === 'phases')!;
      expect(isAtLeast(finding.verdict, 'unproven')).toBe(true);
      expect(finding.required).toBe(true);
    }
  });

  test('three phases are not to be had of a split phase', () => {
    const judgement = judge(drawn(1, split, lines(0, 1)), 1, plateOf(240, 3));
    expect(verdictOf(judgement, 'phases')).toBe('unsuited');
    expect(judgement.verdict).toBe('unsuited');
  });

  test('a dead line is nothing to a machine that hangs on the others', () => {
    const emfs: Phasor[] = [...at(120, 0, -120), [0, 0]];
    expect(judge(drawn(1, emfs, lines(0, 1)), 1, plateOf(208)).verdict).toBe('adequate');
    expect(judge(drawn(1, [...at(120, 0), [0, 0]], line(0)), 1, plateOf(120)).verdict).toBe(
      'adequate',
    );
  });

  test('240 V at a machine of 120 V is another class, and no high leg', () => {
    const judgement = judge(drawn(1, at(240, 0), line(0)), 1, plateOf(120));
    expect(judgement.verdict).toBe('unsuited');
    expect(verdictOf(judgement, 'voltage-class')).toBe('unsuited');
    expect(verdictOf(judgement, 'phases')).not.toBe('unsuited');
  });

  test('the high leg at an outlet of 120 V is a stop', () => {
    for (const emfs of [highLeg, highLeg.slice(0, 2), highLeg.slice(1, 2)]) {
      const hangs = line(emfs.length === 1 ? 0 : 1);
      const judgement = judge(drawn(1, emfs, hangs), 1, plateOf(120));
      expect(verdictOf(judgement, 'phases')).toBe('unsuited');
      expect(judgement.verdict).toBe('unsuited');
    }
  });
});

describe('three voltages that were measured from line to line', () => {
  /** v12, v23, v31, each beside the current of its first line. */
  function lineToLine(wires: Wires, seed: number): Float64Array[] {
    const columns = sampled(wires, seed);
    return [0, 1, 2].flatMap((k) => {
      const [v, w] = [columns[2 * k]!, columns[2 * ((k + 1) % 3)]!];
      return [v.map((each, n) => each - w[n]!), columns[2 * k + 1]!];
    });
  }

  test('are told from those to neutral by the plate, and by the current 30° behind', () => {
    for (const seed of seeds) {
      const wires = drawn(seed, wye, three);
      const circuit: Circuit = { name: 'c', volts: 208, phases: 3 };
      const given = { plate: plateOf(208, 3), circuit };
      const judgement = judged(wires.rateHz, lineToLine(wires, seed), given);
      expect(judgement.service!.arrangement).toBe('three-phase-delta');
      expect(verdictOf(judgement, 'phases')).toBe('adequate');
      expect(judgement.service!.voltsBetween[0]! / (120 * Math.sqrt(3))).toBeCloseTo(1, 1);
      expect(['adequate', 'unproven']).toContain(judgement.verdict);
    }
  });

  test('three of 230 V to neutral under a 230 V plate are 400 V: never adequate', () => {
    // Measured as they are, they look like 230 V from line to line; the current is in step.
    for (const seed of seeds) {
      const judgement = judge(drawn(seed, european, three), seed, plateOf(230, 3));
      expect(verdictOf(judgement, 'phases')).toBe('unproven');
      expect(isAtLeast(judgement.verdict, 'unproven')).toBe(true);
      // A transformer machine lags by itself: the plate alone proves nothing then either.
      const lagging = drawn(seed, european, three, { lag: degrees(45) });
      expect(isAtLeast(judge(lagging, seed, plateOf(230, 3)).verdict, 'unproven')).toBe(true);
      // What three voltages to neutral have in common is never there between lines.
      const common: Phasor[] = european.map((each) => minus(each, [8, 1]));
      const judged230 = judge(drawn(seed, common, three), seed, plateOf(230, 3));
      expect(judged230.service!.arrangement).toBe('three-phase');
      expect(judged230.verdict).toBe('unsuited');
    }
  });
});
