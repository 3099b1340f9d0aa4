import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Machine, Need } from '../../shared/protocol/planning.ts';
import { plan } from '../../shared/rules/planning.ts';
import { circuit, machine } from './planning-given.ts';

const wires = [0.023, 0.03, 0.035, 0.04, 0.045] as const;

/** A steel machine of some wires, and needs one for each wire. */
const steel = (name: string, price: number, at: readonly number[], owned = false): Machine =>
  machine({
    name,
    price,
    owned,
    pulse: false,
    processes: ['mig-steel'],
    wireInches: at.map((index) => wires[index]!),
  });
const needs: Need[] = wires.map((wireInches, index) => ({
  name: `n${index}`,
  process: 'mig-steel',
  wireInches,
}));
const planned = (machines: Machine[], count: number = wires.length) =>
  plan(machines, [circuit()], needs.slice(0, count));

describe('sets', () => {
  test('smallest, cheapest, as small but dearer, equal', () => {
    const made = planned(
      [
        steel('a', 500, [0, 1, 2]),
        steel('b', 100, [0]),
        steel('c', 100, [1]),
        steel('d', 100, [2]),
        steel('e', 900, [0, 1, 2]),
        steel('f', 500, [0, 1, 2]),
      ],
      3,
    );
    expect(made.smallestSet).toEqual({ machines: ['a'], price: 500, buy: ['a'] });
    expect(made.cheapestSet).toMatchObject({ machines: ['b', 'c', 'd'], price: 300 });
    expect(made.alternatives.map(({ machines, why }) => [machines.join(), why])).toEqual([
      ['f', 'equal'],
      ['b,c,d', 'cheapest'],
      ['e', 'as-small'],
    ]);
  });

  test('what is owned is not bought again, and the least of it is named', () => {
    const made = planned(
      [steel('old', 0, [0, 1], true), steel('older', 0, [0], true), steel('new', 700, [0, 1, 2])],
      3,
    );
    expect(made.smallestSet).toEqual({ machines: ['new'], price: 700, buy: ['new'] });
    const more = planned(
      [steel('old', 0, [0, 1], true), steel('older', 0, [0], true), steel('new', 700, [2])],
      3,
    );
    expect(more.smallestSet).toEqual({ machines: ['old', 'new'], price: 700, buy: ['new'] });
    expect(more.steps.map(({ machine, adds }) => [machine, adds])).toEqual([
      ['old', ['n0', 'n1']],
      ['new', ['n2']],
    ]);
    expect(more.further).toEqual([{ machine: 'new', price: 700, adds: ['n2'] }]);
    expect(more.duplicates).toMatchObject([{ machine: 'older', by: ['old'] }]);
  });

  test('everything owned already: nothing to buy', () => {
    const made = planned([steel('old', 0, [0, 1], true), steel('new', 700, [0, 1])], 2);
    expect(made.smallestSet).toEqual({ machines: ['old'], price: 0, buy: [] });
    expect(made.further).toEqual([{ machine: 'new', price: 700, adds: [] }]);
  });

  test('a need that nothing meets is left out of the sets, with a reason for every machine', () => {
    const made = planned([steel('a', 10, [0]), steel('b', 10, [1])], 3);
    expect(made.smallestSet.machines).toEqual(['a', 'b']);
    expect(made.uncovered).toHaveLength(1);
    expect(made.uncovered[0]).toMatchObject({ need: 'n2' });
    expect(made.uncovered[0]!.why.map(({ machine }) => machine)).toEqual(['a', 'b']);
  });

  test('forty machines of ten kinds tie in a million ways, of which sixteen are listed', () => {
    const kinds = Array.from({ length: 10 }, (_, kind) => 0.02 + kind / 100);
    const machines = Array.from({ length: 40 }, (_, index) =>
      machine({ name: `m${index}`, wireInches: [kinds[index % 10]!] }),
    );
    const all = kinds.map(
      (wireInches): Need => ({
        name: `n${wireInches}`,
        process: 'mig-steel',
        wireInches,
      }),
    );
    const made = plan(machines, [circuit()], all);
    expect(made.smallestSet.machines).toHaveLength(10);
    expect(made.alternatives.length).toBeGreaterThan(10);
    expect(made.alternatives.length).toBeLessThanOrEqual(16);
  });
});

/** Tries every subset of what is not owned. */
function bruteForce(machines: readonly Machine[], count: number) {
  const coversOf = ({ wireInches = [] }: Machine) =>
    needs.slice(0, count).filter((need) => wireInches.includes(need.wireInches!));
  const owned = new Set(machines.filter((each) => each.owned).flatMap(coversOf));
  const offers = machines.filter((each) => !each.owned);
  const coverable = new Set(machines.flatMap(coversOf)).size;
  const ways = Array.from({ length: 1 << offers.length }, (_, mask) => {
    const buy = offers.filter((_each, index) => mask & (1 << index));
    const covered = new Set([...owned, ...buy.flatMap(coversOf)]);
    const price = buy.reduce((sum, each) => sum + (each.price ?? 0), 0);
    return { buy: buy.map(({ name }) => name).join(), count: buy.length, price, covered };
  }).filter(({ covered }) => covered.size === coverable);
  const best = (order: (a: Way, b: Way) => number) => {
    const sorted = [...ways].sort(order);
    return sorted.filter((each) => order(each, sorted[0]!) === 0);
  };
  return {
    coverable,
    fewest: best((a, b) => a.count - b.count || a.price - b.price),
    cheapest: best((a, b) => a.price - b.price || a.count - b.count),
  };
}
interface Way {
  count: number;
  price: number;
}

test('sets are those of brute force on 1,000 random cases', () => {
  const one = fc.record({
    at: fc.uniqueArray(fc.integer({ min: 0, max: 4 }), { maxLength: 4 }),
    price: fc.integer({ min: 0, max: 6 }),
    owned: fc.integer({ min: 0, max: 5 }).map((die) => die === 0),
  });
  const cases = fc.record({
    shop: fc.array(one, { minLength: 1, maxLength: 8 }),
    count: fc.integer({ min: 0, max: 5 }),
  });
  fc.assert(
    fc.property(cases, ({ shop, count }) => {
      const machines = shop.map(({ at, price, owned }, index) =>
        steel(`m${index}`, price, at, owned),
      );
      const made = planned(machines, count);
      const right = bruteForce(machines, count);
      expect(made.covers.filter((each) => each.machines.length > 0)).toHaveLength(right.coverable);
      expect(made.uncovered).toHaveLength(count - right.coverable);
      const { smallestSet, cheapestSet, alternatives } = made;
      const names = (ways: { buy: string }[]) => ways.map(({ buy }) => buy).sort();
      expect(smallestSet.price).toBe(right.fewest[0]!.price);
      const equal = alternatives.filter(({ why }) => why === 'equal');
      const ties = [smallestSet, ...equal].map(({ buy }) => ({ buy: buy.join() }));
      if (right.fewest.length <= 16) expect(names(ties)).toEqual(names(right.fewest));
      else for (const { buy } of ties) expect(names(right.fewest)).toContain(buy);
      expect(cheapestSet.price).toBe(right.cheapest[0]!.price);
      expect(names(right.cheapest)).toContain(cheapestSet.buy.join());
      // Every set told, owned part and all, covers what can be covered.
      for (const set of [smallestSet, cheapestSet, ...alternatives]) {
        const those = machines.filter(({ name }) => set.machines.includes(name));
        const met = needs
          .slice(0, count)
          .filter((need) => those.some((each) => each.wireInches!.includes(need.wireInches!)));
        expect(met).toHaveLength(right.coverable);
      }
    }),
    { numRuns: 1_000, seed: 5 },
  );
});
