import { expect, test } from 'vitest';
import type { OtherLoad, Supply } from '../../shared/protocol/judgement.ts';
import { supplyTrend, type TrendPoint } from '../../shared/rules/supply-trend.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { createPlant, scenarioByName } from '../../simulator/electrics/index.ts';

/** Supplies that the first sensor of a scenario shows, arc by arc, and what else switched. */
function seen(name: string, seed: number, seconds: number) {
  const scenario = scenarioByName(name)!;
  const plant = createPlant(scenario, seed, [scenario.bays[0]!.sensors[0]!.name]);
  const { rateHz, pairs, voltsPerCount, ampsPerCount } = plant.points[0]!.about;
  const supplies: Supply[] = [];
  const loads: OtherLoad[] = [];
  const watch = new Watch(
    {
      ...{ rateHz, pairs, startedAt: null, nominalVolts: 240, nominalHertz: 60 },
      ...{ plate: null, circuit: null },
    },
    {
      arcEnded: ({ estimates: [first] }) => first && supplies.push(first),
      otherLoad: (event) => loads.push(event),
    },
  );
  const block = 2_048;
  const counts = new Int32Array(block * 2 * pairs);
  const channels = Array.from({ length: 2 * pairs }, () => new Float64Array(block));
  for (let at = 0; at < seconds * rateHz; at += block) {
    plant.points[0]!.read(counts, block);
    for (let c = 0; c < 2 * pairs; c++) {
      const scale = (c % 2 === 0 ? voltsPerCount : ampsPerCount)[c >> 1]!;
      for (let n = 0; n < block; n++) channels[c]![n] = counts[n * 2 * pairs + c]! * scale;
    }
    watch.push(channels, block);
  }
  watch.end();
  return { supplies, loads };
}

const points = (supplies: readonly Supply[], fromDay: number): TrendPoint[] =>
  supplies.map(({ ohmsR, ohmsR95 }, at) => ({ atS: (fromDay + at) * 86_400, ohmsR, ohmsR95 }));

test.each([1, 2, 3])(
  'a terminal that works loose is told, a sound one is not (seed %i)',
  (seed) => {
    const sound = points(seen('healthy-steel', seed, 60).supplies, 0);
    const later = points(seen('healthy-steel', seed + 100, 30).supplies, 100);
    const loose = points(seen('loose-terminal', seed, 30).supplies, 200);
    expect(sound.length).toBeGreaterThanOrEqual(3);
    expect(supplyTrend(sound, later.at(-1)!).kind).toBe('steady');
    const trend = supplyTrend(sound, loose.at(-1)!);
    expect(trend.kind).toBe('risen');
    expect(trend.now.ohmsR - trend.before!.ohmsR).toBeGreaterThan(0.3);
  },
);

test('a compressor on the same branch is told as other load, in amperes', () => {
  const { loads } = seen('shared-circuit', 1, 24);
  // 2.6 kW on 240 V is 11 A, 5.5 times that while it starts.
  const fell = loads.filter(({ volts }) => volts < 0);
  expect(fell.length).toBeGreaterThanOrEqual(1);
  expect(Math.max(...loads.map(({ amps }) => amps ?? 0))).toBeGreaterThan(8);
  expect(seen('healthy-steel', 1, 24).loads).toEqual([]);
});
