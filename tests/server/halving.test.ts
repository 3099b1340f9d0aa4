import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findBad } from '../../dashboard/server/ingest/halving.ts';

const numbers = (count: number) => Array.from({ length: count }, (_, at) => at);
/** Finds these among so many, and how many records were tried in all. */
function found(count: number, bad: readonly number[]): { bad: number[]; tried: number } {
  let tried = 0;
  const holds = (some: readonly number[]) => {
    tried += some.length;
    return !some.some((one) => bad.includes(one));
  };
  return { bad: findBad(numbers(count), holds), tried };
}

describe('bad records found by halving', () => {
  it.each([
    ['none of none', 0, []],
    ['none', 100, []],
    ['the only one', 1, [0]],
    ['one, the first', 100, [0]],
    ['one, the last', 100, [99]],
    ['one in the midst', 101, [50]],
    ['two side by side', 100, [49, 50]],
    ['first and last', 100, [0, 99]],
    ['many', 100, [0, 3, 4, 17, 50, 51, 52, 98, 99]],
    ['all', 33, numbers(33)],
  ])('%s', (_, count, bad) => {
    expect(found(count, bad).bad).toEqual(bad);
  });

  it('are any, however many there are', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(63)), fc.nat(64), (bad, count) => {
        const there = bad.filter((one) => one < count).sort((a, b) => a - b);
        expect(found(count, bad).bad).toEqual(there);
      }),
    );
  });

  it('cost one trial where there is none, and for one of many few times as many', () => {
    expect(found(1_000, []).tried).toBe(1_000);
    for (const bad of [0, 499, 500, 999])
      expect(found(1_000, [bad]).tried).toBeLessThanOrEqual(5_000);
  });

  it('are the later ones of those that only fail together', () => {
    const clash = (some: readonly number[]) => !(some.includes(2) && some.includes(6));
    expect(findBad(numbers(8), clash)).toEqual([6]);
    const three = (some: readonly number[]) => some.filter((one) => one % 3 === 0).length < 2;
    expect(findBad(numbers(8), three)).toEqual([3, 6]);
    const both = (some: readonly number[]) => clash(some) && !some.includes(4);
    expect(findBad(numbers(8), both)).toEqual([4, 6]);
  });
});
