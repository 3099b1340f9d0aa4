import { describe, expect, test } from 'vitest';
import { ArcDetector } from '../../shared/metrology/arc-detector.ts';
import { Meter } from '../../shared/metrology/meter.ts';
import { SupplyEstimator } from '../../shared/metrology/supply-estimator.ts';
import { uniform } from './supply-model.ts';
import { playSamples, type SampledScene } from './supply-samples.ts';

function sceneOf(seed: number, waveform: SampledScene['waveform'], arcs: number): SampledScene {
  const u = uniform(seed * 31 + 7);
  const low = waveform !== 'six-pulse' && u() < 0.5;
  const scene: SampledScene = {
    seed,
    rateHz: 10_240,
    hertz: (u() < 0.5 ? 60 : 50) + (u() - 0.5) * 0.2,
    volts: low ? 120 : 240,
    ohmsR: low ? 0.2 + 0.6 * u() : 0.05 + 0.3 * u(),
    ohmsX: 0.02 + 0.08 * u(),
    waveform,
    pairs: waveform === 'six-pulse' ? 3 : 1,
    arcAmps: 15 + 10 * u(),
    idleAmps: u() < 0.3 ? 0 : 0.5,
    ripple: 0.05 * u(),
    walk: 0.0001 + 0.0003 * u(),
    harmonics: [
      [3, 0.02],
      [5, 0.03],
      [7, 0.01],
    ],
    noiseVolts: 0.05,
    noiseAmps: 0.02,
    arcs: [],
    seconds: 0,
    others: [],
  };
  let at = 0.5;
  for (let k = 0; k < arcs; k++) {
    scene.arcs.push([at, at + 0.5 + 0.5 * u()]);
    at = scene.arcs[k]![1] + 0.6;
  }
  scene.seconds = at;
  return scene;
}

/** Samples → meter → arc detector → one estimator a pair, as the watch wires them. */
function estimatorsOf(scene: SampledScene): SupplyEstimator[] {
  const { rateHz, pairs } = scene;
  const nominalHertz = scene.hertz > 55 ? 60 : 50;
  const estimators = Array.from(
    { length: pairs },
    (_, pair) => new SupplyEstimator({ rateHz, pairs, nominalHertz, pair }),
  );
  const detector = new ArcDetector(
    { rateHz },
    {
      began: (start) => {
        for (const estimator of estimators) estimator.arcBegan(start);
      },
      ended: (_start, end) => {
        for (const estimator of estimators) estimator.arcEnded(end);
      },
    },
  );
  const meter = new Meter(
    { rateHz, pairs, nominalHertz: null, phasors: true },
    {
      halfCycle: (row) => {
        for (const estimator of estimators) estimator.halfCycle(row);
        detector.halfCycle(row);
      },
    },
  );
  playSamples(scene, meter, () => {});
  meter.end();
  detector.end();
  return estimators;
}

describe('supply from samples, through the meter and the arc detector', { timeout: 60_000 }, () => {
  test.each([
    ['sine', 16],
    ['rectifier', 16],
    ['six-pulse', 6],
  ] as const)('%s: the intervals hold the truth', (waveform, runs) => {
    let insideR = 0;
    let insideX = 0;
    let told = 0;
    for (let seed = 1; seed <= runs; seed++) {
      const scene = sceneOf(seed, waveform, 1);
      for (const estimator of estimatorsOf(scene)) {
        const estimate = estimator.estimate()!;
        told++;
        if (estimate.ohmsR95[0] <= scene.ohmsR && scene.ohmsR <= estimate.ohmsR95[1]) insideR++;
        if (estimate.ohmsX95[0] <= scene.ohmsX && scene.ohmsX <= estimate.ohmsX95[1]) insideX++;
        expect(Math.abs(estimate.openVolts / scene.volts - 1)).toBeLessThan(0.02);
      }
    }
    expect(told).toBe(runs * (waveform === 'six-pulse' ? 3 : 1));
    // Binomial: 13 of 16 is passed by 99.3 % of honest estimators, 14 of 18 by 99.8 %.
    expect(insideR).toBeGreaterThanOrEqual(told - Math.ceil(0.18 * told));
    expect(insideX).toBeGreaterThanOrEqual(told - Math.ceil(0.18 * told));
  });

  test.each(['sine', 'rectifier', 'six-pulse'] as const)(
    '%s without noise: R to 1 %',
    (waveform) => {
      const silent = { walk: 0, noiseVolts: 0, noiseAmps: 0, ripple: 0 };
      const scene = { ...sceneOf(3, waveform, 2), ...silent };
      for (const estimator of estimatorsOf(scene)) {
        const estimate = estimator.estimate()!;
        expect(Math.abs(estimate.ohmsR / scene.ohmsR - 1)).toBeLessThan(0.01);
        expect(Math.abs(estimate.ohmsX - scene.ohmsX)).toBeLessThan(0.001);
        expect(estimate.steps).toBe(4);
        expect(estimator.otherLoad()).toHaveLength(0);
      }
    },
  );

  test('five arcs: half-width within the larger of 10 % and 15 mΩ', () => {
    for (let seed = 21; seed <= 23; seed++) {
      const scene = sceneOf(seed, 'rectifier', 5);
      const { ohmsR95 } = estimatorsOf(scene)[0]!.estimate()!;
      const half = (ohmsR95[1] - ohmsR95[0]) / 2;
      expect(half).toBeLessThanOrEqual(Math.max(0.1 * scene.ohmsR, 0.015));
    }
  });

  test('a neighbour in the middle of an arc is told, with its volts', () => {
    const scene = { ...sceneOf(4, 'rectifier', 2), walk: 0.0001 };
    const [began, ended] = scene.arcs[1]!;
    const at = (began + ended) / 2;
    const events = estimatorsOf({ ...scene, others: [[at, -2.5]] })[0]!.otherLoad();
    expect(events).toHaveLength(1);
    expect(events[0]!.at / scene.rateHz).toBeCloseTo(at, 1);
    expect(events[0]!.volts).toBeCloseTo(-2.5, 0);
    expect(events[0]!.duringArc).toBe(true);
  });
});
