import { describe, expect, test } from 'vitest';
import type { ConnectionKind } from '../../shared/metrology/connection.ts';
import { SupplyEstimator } from '../../shared/metrology/supply-estimator.ts';
import { gauss, playRows, quietScene, type RowScene, uniform } from './supply-model.ts';

const options = { rateHz: 10_240, pairs: 1, nominalHertz: 60, pair: 0 } as const;

/** Arcs of 2 s every 3.5 s on a circuit of 0.13 Ω. */
function sceneOf(arcs: number, change: Partial<RowScene> = {}): RowScene {
  const list = Array.from({ length: arcs }, (_, k): [number, number] => [1 + 3.5 * k, 3 + 3.5 * k]);
  return { ...quietScene, ohmsR: 0.13, arcs: list, seconds: 1 + 3.5 * arcs, ...change };
}

function played(scene: RowScene): SupplyEstimator {
  const estimator = new SupplyEstimator(options);
  playRows(scene, estimator);
  estimator.end();
  return estimator;
}

/** What was told while the scene ran, asked once in `everyS`. */
function asked(scene: RowScene, everyS: number) {
  const estimator = new SupplyEstimator(options);
  const told: { atS: number; kind: ConnectionKind | null; edges: number; ohmsR: number }[] = [];
  let next = everyS;
  playRows(scene, {
    halfCycle: (row) => {
      estimator.halfCycle(row);
      if (row.end / scene.rateHz < next) return;
      next += everyS;
      const ohmsR = estimator.estimate()?.ohmsR ?? Number.NaN;
      const kind = estimator.connection?.kind ?? null;
      told.push({
        atS: row.end / scene.rateHz,
        kind,
        edges: estimator.connection?.edges ?? 0,
        ohmsR,
      });
    },
    arcBegan: (at) => estimator.arcBegan(at),
    arcEnded: (at) => estimator.arcEnded(at),
  });
  return told;
}

/** A contact that fails at `failsS`. */
const fails = (failsS: number, ohms: number) => (seconds: number) =>
  seconds < failsS ? 0.13 : ohms;
/** A contact that heats within each arc, towards `ohms`, cold again at the next. */
const heats = (ohms: number) => (_seconds: number, burningS: number) =>
  0.13 + (ohms - 0.13) * (1 - Math.exp(-burningS / 0.8));

describe('a connection that fails between arcs', () => {
  test.each([
    [0.3, 0.02],
    [0.6, 0.02],
    [1.1, 0.05],
  ])('to %d Ω in the last of four arcs: the newest state rules', (ohms, within) => {
    for (let seed = 1; seed <= 10; seed++) {
      const estimator = played(sceneOf(4, { seed, ohmsAt: fails(10, ohms) }));
      const estimate = estimator.estimate()!;
      expect(Math.abs(estimate.ohmsR - ohms)).toBeLessThan(within);
      expect(estimate.steps).toBe(2);
      const { kind, ohmsBefore, ohmsAfter, since, edges } = estimator.connection!;
      expect([kind, edges]).toEqual(['grown', 2]);
      expect(ohmsBefore).toBeCloseTo(0.13, 1);
      expect(Math.abs(ohmsAfter - ohms)).toBeLessThan(within);
      expect(since / 10_240).toBeCloseTo(11.5, 1);
      // What its own contact made is nobody else's load.
      expect(estimator.otherLoad()).toEqual([]);
    }
  });

  test('is suspected within half a second of the arc, and sure when the arc has ended', () => {
    const told = asked(sceneOf(5, { ohmsAt: fails(14, 0.8) }), 0.1);
    const burning = told.filter(({ atS }) => atS > 15.6 && atS < 17);
    expect(burning.every(({ kind, edges }) => kind === 'grown' && edges === 1)).toBe(true);
    const ended = told.filter(({ atS }) => atS > 17.4);
    expect(ended.every(({ kind, edges }) => kind === 'grown' && edges === 2)).toBe(true);
    expect(told.filter(({ atS }) => atS < 15).every(({ kind }) => kind === null)).toBe(true);
  });

  test('once mended it is forgotten: the supply is what it is now', () => {
    const ohmsAt = (seconds: number) => (seconds > 7 && seconds < 14 ? 0.9 : 0.13);
    const estimator = played(sceneOf(8, { ohmsAt }));
    expect(estimator.estimate()!.ohmsR).toBeCloseTo(0.13, 1);
    expect(estimator.connection).toBeNull();
  });

  test('a neighbour that comes with an arc is none: the arc ends as it always did', () => {
    for (let seed = 1; seed <= 10; seed++) {
      const scene = sceneOf(5, { seed });
      const others: [number, number][] = [[scene.arcs[3]![0] + 0.01, -5]];
      const estimator = played({ ...scene, others });
      expect(estimator.estimate()!.ohmsR).toBeCloseTo(0.13, 1);
      expect(estimator.connection).toBeNull();
      expect(estimator.otherLoad()).toHaveLength(1);
    }
  });
});

describe('a contact that heats while the arc burns', () => {
  test.each([0.35, 0.6, 1.2])('to %d Ω: the end of the arc rules', (ohms) => {
    for (let seed = 1; seed <= 10; seed++) {
      const estimator = played(sceneOf(3, { seed, ohmsAt: heats(ohms) }));
      const hot = heats(ohms)(0, 2);
      const { ohmsR, ohmsR95 } = estimator.estimate()!;
      expect(ohmsR95[0]).toBeLessThan(hot);
      expect(ohmsR95[1]).toBeGreaterThan(0.95 * hot);
      expect(ohmsR).toBeGreaterThan(0.9 * hot);
      expect(estimator.connection!.kind).toBe('heats');
      expect(estimator.otherLoad()).toEqual([]);
    }
  });

  test('is told while the first arc burns, within a second and a half', () => {
    const told = asked(sceneOf(1, { ohmsAt: heats(0.8) }), 0.1);
    const first = told.find(({ kind }) => kind === 'heats')!;
    expect(first.atS).toBeLessThan(2.5);
    // Its ohms are those of then, no extrapolation.
    expect(first.ohmsR).toBeLessThan(0.8);
    expect(first.ohmsR).toBeGreaterThan(0.2);
  });

  test('a wire that gains 15 % is none, and neither is a supply that falls meanwhile', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const warm = (_seconds: number, burningS: number) => 0.13 * (1 + 0.075 * burningS);
      expect(played(sceneOf(4, { seed, ohmsAt: warm })).connection).toBeNull();
      const scene = sceneOf(4, { seed });
      const others = scene.arcs.map(([at], k): [number, number] => [at + 1, k % 2 === 0 ? -4 : 4]);
      expect(asked({ ...scene, others }, 0.25).every(({ kind }) => kind === null)).toBe(true);
    }
  });
});

test('a loose terminal has other ohms at every edge', () => {
  let told = 0;
  for (let seed = 1; seed <= 10; seed++) {
    const random = uniform(seed);
    let wander = 0;
    const ohmsAt = () => {
      // A correlation of 0.4 s in half cycles.
      wander += -wander / 48 + 0.25 * Math.sqrt(2 / 48) * gauss(random);
      return 0.13 + 0.75 * Math.exp(wander);
    };
    const estimator = played(sceneOf(6, { seed, ohmsAt }));
    const estimate = estimator.estimate();
    expect(estimator.connection).not.toBeNull();
    // Its interval is as wide as what it is of.
    if (estimate) expect(estimate.ohmsR95[1] - estimate.ohmsR95[0]).toBeGreaterThan(0.05);
    // Its swings within an arc would be dozens of other loads: two in a run are left.
    told += estimator.otherLoad().length;
  }
  expect(told).toBeLessThanOrEqual(20);
});

test('a loose terminal is told while its first arc burns, by swings that nobody else makes', () => {
  for (let seed = 1; seed <= 5; seed++) {
    const random = uniform(seed);
    let wander = 0;
    const ohmsAt = () => {
      wander += -wander / 48 + 0.25 * Math.sqrt(2 / 48) * gauss(random);
      return 0.13 + 0.75 * Math.exp(wander);
    };
    const scene = sceneOf(1, { seed, ohmsAt, arcs: [[1, 9]], seconds: 9.5 });
    const told = asked(scene, 0.25).filter(({ atS }) => atS < 9);
    expect(told.find(({ kind, edges }) => kind !== null && edges > 1)!.atS).toBeLessThan(7);
    expect(told.some(({ kind }) => kind === 'wanders')).toBe(true);
  }
});

test('sound circuits are never accused: drift, neighbours, flutter, noise', () => {
  let accused = 0;
  for (let seed = 1; seed <= 200; seed++) {
    const u = uniform(seed * 131);
    const scene = sceneOf(6, {
      seed,
      ohmsR: 0.08 + 0.3 * u(),
      walk: 0.0006 * u(),
      white: 0.0006 * u(),
      ripple: 0.1 * u(),
      arcAmps: 10 + 20 * u(),
      heating: 0.001 * u(),
      others: [[2 + 18 * u(), -4 * u()]],
    });
    const told = asked(scene, 0.5);
    if (told.some(({ kind, edges }) => kind !== null && edges !== 1)) accused++;
  }
  // One in two hundred is the bound on false alarms.
  expect(accused).toBeLessThanOrEqual(1);
});

describe('what an estimate owes to time and to its model', () => {
  /** Half-width of R or X, asked `quietS` after the last arc. */
  const halfWidth = (arcs: number, quietS: number, of: 'ohmsR95' | 'ohmsX95' = 'ohmsR95') => {
    const scene = sceneOf(arcs, { white: 0, walk: 0, phaseWhite: 0, phaseWalk: 0, ripple: 0 });
    const [lo, hi] = played({ ...scene, seconds: scene.seconds + quietS }).estimate()![of];
    return (hi - lo) / 2;
  };

  test('copper follows the day: what was measured an hour ago is less sure', () => {
    // 1 % in ten minutes is 2.5 % in an hour, of 0.13 Ω, at one standard deviation and more.
    expect(halfWidth(3, 3600)).toBeGreaterThan(0.025 * 0.13);
    expect(halfWidth(3, 5)).toBeLessThan(0.015 * 0.13);
  });

  test('no number of arcs makes phasors of a changing current exact: a part in a thousand', () => {
    const ohms = Math.hypot(0.13, 0.05);
    expect(halfWidth(30, 5, 'ohmsX95')).toBeGreaterThan(1.96 * 0.001 * ohms);
  });
});
