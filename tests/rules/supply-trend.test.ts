import { describe, expect, test } from 'vitest';
import { supplyTrend } from '../../shared/rules/supply-trend.ts';

const day = 86_400;
const point = (atS: number, ohmsR: number, half = 0.03) => ({
  ...{ atS, ohmsR },
  ohmsR95: [ohmsR - half, ohmsR + half] as [number, number],
});
const weeks = [0, 2, 5, 9, 13].map((at) => point(at * day, 0.2 + 0.002 * at));

describe('a supply’s resistance', () => {
  test('has risen when the newest interval lies wholly above the first weeks’', () => {
    const { kind, before } = supplyTrend(weeks, point(200 * day, 0.34));
    expect(kind).toBe('risen');
    expect(before!.ohmsR).toBeCloseTo(0.21, 9);
    expect(before!.ohmsR95[1]).toBeCloseTo(0.24, 9);
  });

  test('has not while the intervals overlap, however far the middle', () => {
    expect(supplyTrend(weeks, point(200 * day, 0.34, 0.11)).kind).toBe('steady');
  });

  test('has not by what warm copper makes, however sharp the estimates', () => {
    const sharp = weeks.map(({ atS }) => point(atS, 0.2, 0.001));
    expect(supplyTrend(sharp, point(200 * day, 0.23, 0.001)).kind).toBe('steady');
    expect(supplyTrend(sharp, point(200 * day, 0.235, 0.001)).kind).toBe('risen');
  });

  test('is held against no more than the first fortnight, nor the first third', () => {
    const loosening = Array.from({ length: 60 }, (_, at) => point(at * day, 0.2 + at * 0.004));
    const all = supplyTrend(loosening, point(60 * day, 0.44));
    expect(all.before!.atS).toBe(14 * day);
    expect(supplyTrend(loosening.slice(0, 10), point(9 * day, 0.24)).before!.atS).toBe(3 * day);
  });

  test('one odd arc among the first moves nothing', () => {
    const odd = [...weeks.slice(0, 4), point(13 * day, 0.9)];
    expect(supplyTrend(odd, point(200 * day, 0.34)).kind).toBe('risen');
  });

  test('is not told of too few', () => {
    expect(supplyTrend([], point(0, 0.2))).toMatchObject({ kind: 'few', before: null });
    expect(supplyTrend(weeks.slice(0, 2), point(200 * day, 0.9)).kind).toBe('few');
  });
});
