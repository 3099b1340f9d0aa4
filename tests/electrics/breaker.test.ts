import { describe, expect, test } from 'vitest';
import { Breaker } from '../../simulator/electrics/breaker.ts';
import { sliceS } from '../../simulator/electrics/clockwork.ts';

/** Seconds to trip at a multiple of rated current; infinity where it holds for `patienceS`. */
function tripS(rated: number, multiple: number, patienceS: number): number {
  const breaker = new Breaker(rated, 10, 30);
  const amps = rated * multiple;
  for (let slice = 0; slice * sliceS < patienceS; slice++) {
    if (breaker.slice(amps * amps, amps * Math.SQRT2)) return slice * sliceS;
  }
  return Number.POSITIVE_INFINITY;
}

describe('breaker', () => {
  // UL 489 calibration, from memory: 100 % holds; 135 % within 1 h to 50 A; 200 % within 2 min to
  // 30 A and 4 min to 50 A.
  test.each([20, 30, 50])('%s A holds rated current for three hours', (rated) => {
    expect(tripS(rated, 1, 3 * 3600)).toBe(Number.POSITIVE_INFINITY);
  });

  test.each([
    [20, 1.35, 3600],
    [50, 1.35, 3600],
    [20, 2, 120],
    [30, 2, 120],
    [40, 2, 240],
    [50, 2, 240],
  ])('%s A trips at %s times within %s s, but not at once', (rated, multiple, limitS) => {
    const at = tripS(rated, multiple, limitS);
    expect(at).toBeLessThan(limitS);
    expect(at).toBeGreaterThan(10);
  });

  test('the coil trips at ten times within a slice, the strip alone takes seconds at eight', () => {
    expect(tripS(20, 10.5, 1)).toBe(0);
    expect(tripS(20, 8, 20)).toBeGreaterThan(1);
  });

  test('more current never trips later', () => {
    const times = [1.3, 1.5, 2, 3, 4, 6, 8, 12].map((multiple) => tripS(20, multiple, 3600));
    expect([...times].sort((a, b) => b - a)).toEqual(times);
  });

  test('someone resets it, once the strip has cooled', () => {
    const breaker = new Breaker(20, 10, 5);
    expect(breaker.slice(0, 400)).toBe(true);
    expect(breaker.open).toBe(true);
    let slices = 0;
    while (!breaker.slice(0, 0)) slices += 1;
    expect(breaker.open).toBe(false);
    expect(slices * sliceS).toBeCloseTo(5, 1);
  });
});
