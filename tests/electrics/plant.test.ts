import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createPlant, type Point, scenarioByName } from '../../simulator/electrics/index.ts';

const shop = scenarioByName('harbour-lane')!;

function take(point: Point, frames: number): Int32Array {
  const into = new Int32Array(frames * point.about.pairs * 2);
  point.read(into, frames);
  return into;
}

/** Byte by byte; vitest's own comparison of long arrays takes seconds. */
const same = (a: Int32Array, b: Int32Array): boolean =>
  Buffer.from(a.buffer, a.byteOffset, a.byteLength).equals(
    Buffer.from(b.buffer, b.byteOffset, b.byteLength),
  );

describe('plant', () => {
  test('the same seed gives the same counts, another seed others', () => {
    for (const name of ['bay-2', 'bench']) {
      const [a, b, c] = [7, 7, 8].map((seed) =>
        take(createPlant(shop, seed, [name]).points[0]!, 30_000),
      );
      expect(same(a!, b!)).toBe(true);
      expect(same(a!, c!)).toBe(false);
    }
  });

  test('whatever the blocks, the same counts', () => {
    const whole = take(createPlant(shop, 3, ['yard']).points[0]!, 12_000);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 5000 }), { maxLength: 12 }), (blocks) => {
        const point = createPlant(shop, 3, ['yard']).points[0]!;
        let at = 0;
        for (const frames of blocks) {
          const fits = Math.min(frames, 12_000 - at);
          if (fits === 0) break;
          expect(same(take(point, fits), whole.subarray(2 * at, 2 * (at + fits)))).toBe(true);
          at += fits;
        }
      }),
      { numRuns: 15 },
    );
  });

  test('two points of one circuit, read in turn or one by one, show one circuit', () => {
    const names = ['bay-1-outlet', 'bay-1-machine'];
    const apart = names.map((name) => take(createPlant(shop, 5, [name]).points[0]!, 40_000));
    const { points } = createPlant(shop, 5, names);
    const at = [0, 0];
    for (const [turn, frames] of [9000, 20_000, 31_000, 20_000].entries()) {
      const which = turn % 2;
      const counts = take(points[which]!, frames);
      expect(same(counts, apart[which]!.subarray(at[which]!, at[which]! + 2 * frames))).toBe(true);
      at[which]! += 2 * frames;
    }
    expect(at).toEqual([80_000, 80_000]);
  });

  test('a point left more than 16 s behind is a programmer error, not a leak', () => {
    const { points } = createPlant(shop, 5, ['bay-1-outlet', 'bay-1-machine']);
    expect(() => take(points[0]!, 30 * 10_240)).toThrow(/within 16 s/);
  });

  test('truth: at the machine the cord is in, at the outlet it is not', () => {
    const plant = createPlant(shop, 5, ['bay-1-outlet', 'bay-1-machine']);
    for (let second = 0; second < 20; second++) for (const p of plant.points) take(p, 10_240);
    const [outlet, machine] = ['bay-1-outlet', 'bay-1-machine'].map((name) => plant.truth(name));
    // 75 ft of 16 AWG, there and back, cold: 0.628 ohm.
    const cord = machine!.supply[0]!.ohmsR - outlet!.supply[0]!.ohmsR;
    expect(cord).toBeGreaterThan(0.62);
    expect(cord).toBeLessThan(0.68);
    expect(machine!.arcs.length).toBeGreaterThan(1);
    expect(machine!.arcs).toHaveLength(outlet!.arcs.length);
    for (const [at, { startS, endS, meanWatts }] of machine!.arcs.entries()) {
      expect(endS).toBeGreaterThan(startS);
      expect(meanWatts).toBeLessThan(outlet!.arcs[at]!.meanWatts);
    }
  });

  test('truth agrees with the counts: power over the arc, and volts across the supply', () => {
    const seconds = 15;
    for (const name of ['bay-1-machine', 'bay-2', 'bench']) {
      const plant = createPlant(shop, 11, [name]);
      const point = plant.points[0]!;
      const { pairs, rateHz, voltsPerCount, ampsPerCount } = point.about;
      const counts = take(point, seconds * rateHz);
      const truth = plant.truth();
      const arc = truth.arcs.find(({ startS, endS }) => endS - startS > 0.3)!;
      let joules = 0;
      for (let at = Math.round(arc.startS * rateHz); at < Math.round(arc.endS * rateHz); at++) {
        for (let pair = 0; pair < pairs; pair++) {
          const v = counts[(at * pairs + pair) * 2]! * voltsPerCount[pair]!;
          const i = counts[(at * pairs + pair) * 2 + 1]! * ampsPerCount[pair]!;
          joules += (v * i) / rateHz;
        }
      }
      expect(joules / (arc.endS - arc.startS) / arc.meanWatts).toBeCloseTo(1, 1.9);
    }
  });

  test('the first arc of the shop comes within 3 s of its start and ends soon', () => {
    for (let seed = 1; seed <= 8; seed++) {
      const plant = createPlant(shop, seed, ['bay-1-machine']);
      take(plant.points[0]!, 6 * 10_240);
      const [first] = plant.truth().arcs;
      expect(first!.startS).toBeLessThan(3);
      expect(first!.endS).toBeLessThan(4);
    }
  });
});
