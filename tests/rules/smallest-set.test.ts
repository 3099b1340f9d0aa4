import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Aim, bestCovers, type Choice, type Cover } from '../../shared/rules/smallest-set.ts';

/** Tries every subset: slow, and plainly right. */
function bruteForce(things: number, choices: readonly Choice[], aim: Aim): Cover[] {
  let best: Cover[] = [];
  for (let mask = 0; mask < 1 << choices.length; mask++) {
    const chosen = choices.map((_, index) => index).filter((index) => mask & (1 << index));
    const covered = new Set(chosen.flatMap((index) => choices[index]!.covers));
    if (covered.size < things) continue;
    const cost = chosen.reduce((sum, index) => sum + choices[index]!.cost, 0);
    // A choice that adds nothing is no part of a best cover unless it is free of cost and count.
    const order = best[0]
      ? aim === 'fewest'
        ? chosen.length - best[0].chosen.length || cost - best[0].cost
        : cost - best[0].cost || chosen.length - best[0].chosen.length
      : -1;
    if (order < 0) best = [];
    if (order <= 0) best.push({ chosen, cost });
  }
  return best;
}

const cases = fc
  .record({ things: fc.integer({ min: 1, max: 9 }), count: fc.integer({ min: 1, max: 9 }) })
  .chain(({ things, count }) =>
    fc.record({
      things: fc.constant(things),
      choices: fc
        .array(
          fc.record({
            covers: fc.uniqueArray(fc.integer({ min: 0, max: things - 1 }), { minLength: 1 }),
            cost: fc.integer({ min: 0, max: 40 }),
          }),
          { minLength: count, maxLength: count },
        )
        .map((list) => [
          ...list,
          { covers: Array.from({ length: things }, (_, index) => index), cost: 90 },
        ]),
    }),
  );

describe.each<Aim>(['fewest', 'cheapest'])('bestCovers, %s', (aim) => {
  test('is brute force, ties and all, on 1,000 random cases', () => {
    fc.assert(
      fc.property(cases, ({ things, choices }) => {
        const sorted = (covers: Cover[]) => covers.map((cover) => cover.chosen.join()).sort();
        const found = bestCovers(things, choices, aim, 1_000);
        const right = bruteForce(things, choices, aim);
        expect(found[0]!.cost).toBe(right[0]!.cost);
        expect(sorted(found)).toEqual(sorted(right));
      }),
      { numRuns: 1_000, seed: 7 },
    );
  });
});

test('nothing to cover takes nothing', () => {
  expect(bestCovers(0, [{ covers: [], cost: 5 }], 'fewest')).toEqual([{ chosen: [], cost: 0 }]);
});

test('the two aims may differ', () => {
  const choices = [
    { covers: [0, 1], cost: 100 },
    { covers: [0], cost: 10 },
    { covers: [1], cost: 10 },
  ];
  expect(bestCovers(2, choices, 'fewest')[0]!.chosen).toEqual([0]);
  expect(bestCovers(2, choices, 'cheapest')[0]!.chosen).toEqual([1, 2]);
});
