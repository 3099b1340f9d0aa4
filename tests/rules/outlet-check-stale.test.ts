import { describe, expect, test } from 'vitest';
import { stalenessOf } from '../../shared/rules/outlet-check-stale.ts';
import { about, choose, circuit, full, through } from './check-given.ts';

describe('stale', () => {
  const result = through(full['first-bead'], choose('judge')).result!;
  const now = {
    date: '2026-03-20T08:00:00Z',
    place: about.place,
    machine: 'bay welder',
    circuit: 'bay 2',
    cords: circuit.cords!,
  };

  test('the same thing within a month is not', () => {
    expect(stalenessOf(result, now)).toEqual({ stale: false, why: [], sayings: [] });
    const metric = [{ awg: 10, metres: 25 * 0.3048 }];
    expect(stalenessOf(result, { ...now, cords: metric }).stale).toBe(false);
  });

  test.each([
    ['another cord', { cords: [{ awg: 10, feet: 50 }] }, '50 ft of 10 AWG'],
    ['no cord', { cords: [] }, 'no cord'],
    ['another place', { place: 'bay 3' }, 'bay 3'],
    ['another machine', { machine: 'other' }, 'other'],
    ['another outlet', { circuit: 'bay 3' }, 'bay 3'],
    ['a month and a day', { date: '2026-04-02T08:00:00Z' }, 'common practice'],
    ['a clock that runs back', { date: '2026-03-01T08:00:00Z' }, 'clocks'],
    ['no date', { date: 'soon' }, 'cannot be read'],
  ])('%s', (_, change, says) => {
    const { stale, why } = stalenessOf(result, { ...now, ...change });
    expect(stale).toBe(true);
    expect(why).toHaveLength(1);
    expect(why[0]).toContain(says);
  });

  test('to the minute: thirty days stand, a minute more does not', () => {
    const at = (date: string) => stalenessOf(result, { ...now, date }).stale;
    expect(at('2026-04-01T08:00:00Z')).toBe(false);
    expect(at('2026-04-01T08:01:00Z')).toBe(true);
  });
});
