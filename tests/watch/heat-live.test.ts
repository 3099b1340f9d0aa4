import { describe, expect, test } from 'vitest';
import { heatFound } from '../../shared/protocol/heat-found.ts';
import type { Heat } from '../../shared/protocol/http.ts';
import { leastHeatSeconds } from '../../shared/rules/heat.ts';
import type { WatchedArc } from '../../shared/watch/contract.ts';
import { feed, plate240, watchOf } from './judged.ts';
import { quietSupply, samples } from './synth.ts';

const rateHz = 10_240;

interface Told {
  durationS: number;
  heat: Heat | null;
}

/** What is told of an arc's heat while it burns, and at its end. */
function told(band: [number, number] | null): { burning: Told[]; ended: Told } {
  const burning: Told[] = [];
  const ended: Told[] = [];
  const of = ({ arc: { durationS, findings } }: WatchedArc): Told => ({
    ...{ durationS, heat: heatFound(findings) },
  });
  const coupon = band && { watts: band };
  const watch = watchOf(
    rateHz,
    1,
    { plate: plate240, coupon },
    { arcGoesOn: (arc) => burning.push(of(arc)), arcEnded: (arc) => ended.push(of(arc)) },
  );
  const columns = samples({
    ...{ ...quietSupply, rateHz, seconds: 4, ohmsR: 0.1, noiseVolts: 0.1 },
    arcs: [{ startS: 1, endS: 3, amps: 20 }],
  });
  feed(watch, columns, columns[0].length);
  watch.end();
  return { burning, ended: ended[0]! };
}

describe('the heat of an arc that burns', () => {
  test('without a band nothing is said of it', () => {
    const { burning, ended } = told(null);
    expect(burning.length).toBeGreaterThan(5);
    expect([...burning, ended].every(({ heat }) => heat === null)).toBe(true);
  });

  test.each([
    ['colder', 1.2, 1.4],
    ['inside', 0.9, 1.1],
    ['hotter', 0.6, 0.8],
  ] as const)('is %s from when its rule can tell until its end', (word, low, high) => {
    const watts = told([1, 1e6]).ended.heat!.watts;
    const { burning, ended } = told([low * watts, high * watts]);
    const early = burning.filter(({ durationS }) => durationS < leastHeatSeconds);
    const late = burning.filter(({ durationS }) => durationS >= leastHeatSeconds);
    expect(early.length).toBeGreaterThan(0);
    expect(early.every(({ heat }) => heat === null)).toBe(true);
    expect(late.length).toBeGreaterThan(4);
    expect([...late, ended].map(({ heat }) => heat?.word)).toEqual(
      [...late, ended].map(() => word),
    );
    // The figure that is told is the one of the arc so far: near the end's, not equal to it.
    expect(late.at(-1)!.heat!.watts / ended.heat!.watts).toBeCloseTo(1, 1);
  });
});
