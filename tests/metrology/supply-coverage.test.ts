import { describe, expect, test } from 'vitest';
import { drawSamples, inverter, type Sampling, sine } from './coverage-samples.ts';
import {
  type Condition,
  type Covered,
  conditions,
  coverOf,
  drawRows,
  lineOf,
} from './coverage-study.ts';

/**
 * How often the estimator's 95 % intervals hold what was true, in every condition that it accepts.
 * STIFFLINE_COVERAGE_SEEDS sets the seeds of a condition (150 unless set; the long run has 1,500);
 * of the samples, which cost a hundred times as much, an eighth of them.
 */
const seeds = Number(process.env.STIFFLINE_COVERAGE_SEEDS ?? 150);
const sampledSeeds = Math.max(6, Math.ceil(seeds / 8));

/** Of `told` honest intervals this many at least hold the truth, at 93 % and four deviations. */
const least = (told: number): number => 0.93 * told - 4 * Math.sqrt(0.93 * 0.07 * told);

function check(covered: Covered): void {
  process.stdout.write(`${lineOf(covered)}\n`);
  const { told, insideR, insideX, runs } = covered;
  // What is refused must not be what would have missed.
  expect(told).toBeGreaterThanOrEqual(0.9 * runs);
  expect(insideR * told).toBeGreaterThanOrEqual(least(told));
  expect(insideX * told).toBeGreaterThanOrEqual(least(told));
}

describe('supply interval over seeded shops', { timeout: 1000 * seeds }, () => {
  test.each(conditions)('$name', (condition) => {
    const covered = coverOf(condition.name, (seed) => drawRows(seed, condition), seeds);
    check(covered);
    // An ordinary shop's evening: honest, and not by width alone.
    if (isEvening(condition)) expect(covered.widthR).toBeLessThan(0.05);
  });

  const isEvening = ({ name, arcs }: Condition): boolean => arcs >= 10 && /0\.0[25]/.test(name);

  const plain: Sampling = { rateHz: 10_240, bits: 16, harmonics: sine, arcs: 2, driftVolts: 0.03 };
  test.each<[string, Partial<Sampling>]>([
    ['1 k samples/s', { rateHz: 1_000 }],
    ['2 k samples/s, inverter', { rateHz: 2_000, harmonics: inverter }],
    ['10 k samples/s, inverter', { harmonics: inverter }],
    ['10 k samples/s, inverter, five arcs', { harmonics: inverter, arcs: 5 }],
    ['10 k samples/s, 8 bit', { bits: 8 }],
    ['10 k samples/s, 8 bit, inverter', { bits: 8, harmonics: inverter }],
    ['5 k samples/s, 12 bit, inverter', { rateHz: 5_000, bits: 12, harmonics: inverter }],
    ['100 k samples/s, inverter', { rateHz: 100_000, harmonics: inverter, arcs: 1 }],
  ])('samples: %s', (name, change) => {
    const sampling = { ...plain, ...change };
    const runs = sampling.rateHz > 50_000 ? Math.max(2, sampledSeeds >> 2) : sampledSeeds;
    check(coverOf(name, (seed) => drawSamples(seed, sampling), runs));
  });
});
