import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Finding } from '../../shared/protocol/judgement.ts';
import { judgeFeed } from '../../shared/rules/feed.ts';
import { phases } from '../../shared/rules/phases.ts';
import { rank } from '../../shared/rules/verdict.ts';
import { voltageClass } from '../../shared/rules/voltage-class.ts';
import { plate, setting, supply } from './given.ts';

const of = (
  U1: number,
  circuit: Circuit | null = null,
  change: Parameters<typeof setting>[0] = {},
) =>
  setting({
    plate: { ...plate, supply: [{ U1, I1max: 20 }] },
    rated: { U1, I1max: 20 },
    nominalVolts: circuit?.volts ?? null,
    circuit,
    ...change,
  });
const outlet = (volts: number, more: Partial<Circuit> = {}): Circuit => ({
  name: 'bay 2',
  volts,
  ...more,
});
/** A plate's volts, then what was measured or described. */
const measured = (U1: number, openVolts: number, more = {}): Finding =>
  voltageClass.ask({ ...of(U1, null, more), openVolts })[0]!;
const described = (U1: number, volts: number): Finding =>
  voltageClass.ask({ ...of(U1, outlet(volts)), openVolts: null })[0]!;

describe('a machine that must not be plugged in', () => {
  test.each([
    [120, 240],
    [120, 208],
    [208, 240],
    [240, 277],
    [230, 400],
    [240, 480],
  ])('a %i V plate on %i V gets too much, described or measured', (U1, volts) => {
    for (const found of [described(U1, volts), measured(U1, volts)]) {
      expect(found).toMatchObject({ verdict: 'unsuited', required: true, unit: 'V' });
      expect(found.limit).toBeCloseTo(1.1 * U1, 6);
      expect(found.margin).toBeLessThan(0);
      expect(found.says).toContain(`no more than ${Math.round(1.1 * U1)} V`);
    }
  });

  test.each([
    [240, 120],
    [208, 120],
    [480, 240],
    [400, 230],
    [600, 480],
  ])('a %i V plate on %i V is of another class', (U1, volts) => {
    for (const found of [described(U1, volts), measured(U1, volts)])
      expect(found).toMatchObject({ verdict: 'unsuited', required: true });
    expect(described(U1, volts).says).toMatch(/made for/);
  });

  test.each([
    [240, 208],
    [240, 200],
    [230, 200],
    [480, 400],
    [575, 480],
  ])('a %i V plate on %i V is short of voltage, which is another matter', (U1, volts) => {
    for (const found of [described(U1, volts), measured(U1, volts)])
      expect(found.verdict).toBe('underpowered');
  });

  test.each([
    [120, 120],
    [115, 120],
    [240, 230],
    [230, 240],
    [460, 480],
    [400, 415],
  ])('a %i V plate on %i V is at home', (U1, volts) => {
    for (const found of [described(U1, volts), measured(U1, volts)])
      expect(found.verdict).toBe('adequate');
  });
});

test('U1 + 10 % is held against what was measured, with its interval', () => {
  // Class S reads within 0.5 %: 264 V is the most under a 240 V plate.
  expect(measured(240, 262).verdict).toBe('marginal');
  expect(measured(240, 263.5).verdict).toBe('marginal');
  expect(measured(240, 265).verdict).toBe('marginal');
  expect(measured(240, 265.4)).toMatchObject({ verdict: 'unsuited', measured: 265.4 });
  // A better sensor knows sooner.
  const fine = { accuracy: { volts: 0.001, halfCycleVolts: 0.01, amps: 0.01 } };
  expect(measured(240, 264.3, fine).verdict).toBe('unsuited');
  // 124 V lies nearer 127 than 120, and a 115 V plate takes either up to 126.5 V.
  expect(measured(115, 124).verdict).toBe('marginal');
  // The right class on paper, and too much of it: the paper does not help the machine.
  const high = voltageClass.ask({ ...of(240, outlet(240)), openVolts: 268 })[0]!;
  expect(high).toMatchObject({ verdict: 'unsuited', measured: 268 });
});

test('what is described stands where what is measured does not contradict it', () => {
  // 225 V in the evening on a 240 V circuit: a 208 V plate would get 240 V in the morning.
  const evening = voltageClass.ask({ ...of(208, outlet(240)), openVolts: 225 })[0]!;
  expect(evening).toMatchObject({ verdict: 'unsuited', measured: 240 });
  const wrong = voltageClass.ask({ ...of(120, outlet(120)), openVolts: 238 })[0]!;
  expect(wrong.verdict).toBe('unsuited');
  expect(wrong.says).toMatch(/described as 120 V/);
  const low = voltageClass.ask({ ...of(240, outlet(240)), openVolts: 208 })[0]!;
  expect(low).toMatchObject({ verdict: 'underpowered', measured: 208 });
});

test('a voltage of no class is no other class: something is wrong with this one', () => {
  // A generator that labours, or a connection that fails: between 120 V and 200 V.
  for (const volts of [140, 150, 170, 185])
    expect(measured(240, volts).verdict).toBe('underpowered');
});

test('a dead outlet says nothing of its class; its description does', () => {
  const dead = (circuit: Circuit | null) =>
    voltageClass.ask({ ...of(240, circuit), openVolts: 20 })[0]!;
  expect(dead(null)).toMatchObject({ verdict: 'unproven', required: false });
  expect(dead(outlet(240)).verdict).toBe('adequate');
  expect(dead(outlet(120)).verdict).toBe('unsuited');
  // Forty volts on an outlet is no induced voltage: something feeds it, and badly.
  expect(measured(240, 40).verdict).toBe('underpowered');
});

test('a lost leg is a fault of this outlet and no other class', () => {
  const legs = of(240, outlet(240), { pairs: 2, loops: [2] });
  const ask = (volts: number[]) =>
    voltageClass.ask({ ...legs, openVolts: 122, phases: { volts, between: [122], atS: 1 } })[0]!
      .verdict;
  expect(ask([121, 1])).toBe('underpowered');
  expect(ask([61, 61])).toBe('unsuited');
});

test('a machine on one leg of a circuit that is measured on both is at home there', () => {
  const legs = (openVolts: number | null, nominalVolts: number) =>
    voltageClass.ask({ ...of(120, outlet(240), { pairs: 2, nominalVolts }), openVolts })[0]!;
  expect(legs(null, 240)).toMatchObject({ verdict: 'unproven', required: false });
  expect(legs(121, 120)).toMatchObject({ verdict: 'adequate', measured: 120 });
  expect(legs(121, 120).says).not.toContain('described');
  expect(legs(241, 240).verdict).toBe('unsuited');
  // Neither leg of a 480 V circuit is its own.
  const high = { ...of(120, outlet(480), { pairs: 2 }), openVolts: null };
  expect(voltageClass.ask(high)[0]!.verdict).toBe('unsuited');
});

test('three phases are not to be had of a circuit that has one', () => {
  const three = { plate: { ...plate, phases: 3 as const }, circuit: outlet(240, { phases: 1 }) };
  const [found] = phases.ask({ ...setting(three), phases: null });
  expect(found).toMatchObject({ verdict: 'unsuited', required: true });
});

describe('a feed that must not be', () => {
  test('says why and nothing of what full load would do', () => {
    const feed = judgeFeed(of(120, outlet(240)), supply(), 239);
    expect(feed).toMatchObject({ verdict: 'unsuited', atFullLoad: null });
    expect(feed.findings.map(({ rule }) => rule)).toEqual(['voltage-class']);
    const three = setting({
      plate: { ...plate, phases: 3 },
      circuit: outlet(240, { phases: 1 }),
    });
    const phased = judgeFeed(three, supply(), 240);
    expect(phased).toMatchObject({ verdict: 'unsuited', atFullLoad: null });
    expect(phased.findings.map(({ rule }) => rule)).toEqual(['phases']);
  });

  test('208 V under 240 V is underpowered by its class and by what full load would do', () => {
    const feed = judgeFeed(of(240, outlet(208)), supply({ openVolts: 208 }), 208);
    expect(feed.verdict).toBe('underpowered');
    expect(feed.atFullLoad!.value).toBeLessThan(208);
  });
});

const classes = [100, 110, 120, 127, 200, 208, 220, 230, 240, 277, 347, 400, 415, 480, 600];

test('between any two classes: unsuited where their bands of ten per cent do not touch', () => {
  for (const U1 of classes)
    for (const volts of classes) {
      const unsuited = described(U1, volts).verdict === 'unsuited';
      expect([U1, volts, unsuited]).toEqual([
        U1,
        volts,
        volts > 1.1 * U1 + 1e-9 || 1.1 * volts < 0.9 * U1,
      ]);
    }
});

test('more volts above the plate never make it better', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...classes),
      fc.double({ min: 1, max: 3, noNaN: true }),
      fc.double({ min: 1, max: 1.5, noNaN: true }),
      (U1, over, more) => {
        const [lower, higher] = [measured(U1, U1 * over), measured(U1, U1 * over * more)];
        expect(rank(higher.verdict)).toBeGreaterThanOrEqual(rank(lower.verdict));
      },
    ),
    { numRuns: 300, seed: 12 },
  );
});
