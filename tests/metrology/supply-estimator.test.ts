import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { HalfCycleRow } from '../../shared/metrology/row.ts';
import type { SupplyEstimate } from '../../shared/metrology/supply-estimate.ts';
import { SupplyEstimator } from '../../shared/metrology/supply-estimator.ts';
import { playRows, quietScene, type RowScene } from './supply-model.ts';

const silent = { white: 0, walk: 0, phaseWhite: 0, phaseWalk: 0, ripple: 0 };

function estimatorFor(scene: RowScene): SupplyEstimator {
  const nominalHertz = scene.hertz > 55 ? 60 : 50;
  return new SupplyEstimator({ rateHz: scene.rateHz, pairs: 1, nominalHertz, pair: 0 });
}

function estimateOf(scene: RowScene): SupplyEstimate | null {
  const estimator = estimatorFor(scene);
  playRows(scene, estimator);
  return estimator.estimate();
}

/** Repeats the scene's arc. */
function arcs(count: number, arcS: number, idleS: number): Pick<RowScene, 'arcs' | 'seconds'> {
  const list: [number, number][] = [];
  for (let k = 0; k < count; k++) {
    const at = idleS + k * (arcS + idleS);
    list.push([at, at + arcS]);
  }
  return { arcs: list, seconds: idleS + count * (arcS + idleS) };
}

describe('a silent supply is found exactly', () => {
  test.each([
    { volts: 240, ohmsR: 0.13, ohmsX: 0.05, arcAmps: 30, lagRadians: 0 },
    { volts: 120, ohmsR: 0.8, ohmsX: 0.1, arcAmps: 15, lagRadians: 0.6435 },
    { volts: 208, ohmsR: 0.05, ohmsX: 0.02, arcAmps: 40, lagRadians: -0.3 },
    { volts: 230, ohmsR: 0.4, ohmsX: 0.25, arcAmps: 16, lagRadians: 0.2, hertz: 50 },
  ])('$volts V, $ohmsR + j$ohmsX Ω', (circuit) => {
    const estimate = estimateOf({ ...quietScene, ...silent, ...circuit })!;
    // What the prior expects of the wire's warming within the arc is all that is off.
    expect(estimate.ohmsR).toBeGreaterThan(circuit.ohmsR * (1 - 1e-6));
    expect(estimate.ohmsR).toBeLessThan(circuit.ohmsR * 1.001);
    expect(estimate.ohmsX).toBeCloseTo(circuit.ohmsX, 3);
    expect(estimate.openVolts / circuit.volts).toBeCloseTo(1, 3);
    expect(estimate.steps).toBe(2);
    expect(estimate.lagRadians).toBeCloseTo(circuit.lagRadians, 6);
  });

  test('an idle machine that draws nothing is as good as one that draws', () => {
    const drawsNothing = estimateOf({ ...quietScene, ...silent, idleAmps: 0 })!;
    expect(drawsNothing.ohmsR).toBeCloseTo(0.3, 3);
  });

  test('a frequency that is off and a drifting background are no impedance', () => {
    const off = estimateOf({ ...quietScene, ...silent, hertz: 59.3, drift: 0.002 })!;
    expect(off.ohmsR).toBeCloseTo(0.3, 2);
    expect(off.ohmsX).toBeCloseTo(0.05, 2);
  });

  test('a warming wire is followed: R is that of the last moment', () => {
    const scene = { ...quietScene, ...silent, ...arcs(5, 6, 3), heating: 0.001 };
    const estimate = estimateOf(scene)!;
    expect(estimate.ohmsR / (0.3 * 1.03)).toBeCloseTo(1, 2);
    expect(estimate.ohmsR95[0]).toBeLessThan(0.309);
    expect(estimate.ohmsR95[1]).toBeGreaterThan(0.309);
  });
});

describe('refusal', () => {
  test('no arc, no estimate', () => {
    const scene = { ...quietScene, arcs: [] };
    expect(estimateOf(scene)).toBeNull();
    expect(estimatorFor(scene).estimate()).toBeNull();
  });

  test('a step too small for its background: the interval says so', () => {
    const restless = { ...quietScene, walk: 0.0006, white: 0.001 };
    expect(estimateOf({ ...restless, arcAmps: 1.5, idleAmps: 0.2 })).toBeNull();
    expect(estimateOf({ ...restless, arcAmps: 30, idleAmps: 0.2 })).not.toBeNull();
  });

  test('a dead phase: no volts at all, then nothing but zeros', () => {
    const scene = { ...quietScene, arcs: [[1, 2]] as [number, number][] };
    const estimator = estimatorFor(scene);
    playRows(scene, {
      halfCycle: (row) => {
        for (const column of [row.urms, row.u1re, row.u1im, row.irms, row.i1re, row.i1im]) {
          column.fill(0);
        }
        estimator.halfCycle(row);
      },
      arcBegan: (at) => estimator.arcBegan(at),
      arcEnded: (at) => estimator.arcEnded(at),
    });
    expect(estimator.estimate()).toBeNull();
    expect(estimator.otherLoad()).toHaveLength(0);
  });

  test('one side of the step missing: a recording that begins inside the arc', () => {
    const scene: RowScene = { ...quietScene, arcs: [[0, 2]], seconds: 2 };
    expect(estimateOf(scene)).toBeNull();
  });
});

describe('what must not disturb', () => {
  test('a neighbour that switches with one arc in five', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const scene = { ...quietScene, ...arcs(5, 1.5, 1), seed };
      const others: [number, number][] = [[scene.arcs[2]![0] + 0.01, -4]];
      const estimator = estimatorFor(scene);
      playRows({ ...scene, others }, estimator);
      const estimate = estimator.estimate()!;
      expect(Math.abs(estimate.ohmsR - 0.3)).toBeLessThan(0.02);
      expect(estimate.steps).toBeLessThanOrEqual(9);
      expect(estimate.steps).toBeGreaterThanOrEqual(8);
      expect(estimator.otherLoad()).toHaveLength(1);
      expect(Math.abs(estimator.otherLoad()[0]!.volts + 4)).toBeLessThan(1);
    }
  });

  test('how late the detector tells', () => {
    const soon = estimateOf({ ...quietScene, lateS: 0.03 })!;
    const late = estimateOf({ ...quietScene, lateS: 0.9 })!;
    expect(late.ohmsR).toBeCloseTo(soon.ohmsR, 2);
    expect(late.steps).toBe(2);
  });

  test('when it is asked', () => {
    const scene = { ...quietScene, ...arcs(3, 1, 1) };
    const asked = estimatorFor(scene);
    const unasked = estimatorFor(scene);
    playRows(scene, unasked);
    playRows(scene, {
      halfCycle: (row) => {
        asked.halfCycle(row);
        asked.estimate();
      },
      arcBegan: (at) => asked.arcBegan(at),
      arcEnded: (at) => asked.arcEnded(at),
    });
    expect(asked.estimate()).toEqual(unasked.estimate());
    expect(asked.otherLoad()).toEqual(unasked.otherLoad());
  });

  test('rows without a lock, and samples lost in the middle of an arc', () => {
    const scene = { ...quietScene, ...arcs(3, 2, 1) };
    const estimator = estimatorFor(scene);
    playRows(scene, {
      halfCycle: (row) => {
        const seconds = row.end / scene.rateHz;
        if (seconds > 2 && seconds < 2.3) return;
        if (seconds > 2.3 && seconds < 2.32) estimator.skip(3000);
        if (seconds > 5 && seconds < 5.1) {
          estimator.halfCycle({ ...row, locked: false, u1re: Float64Array.of(Number.NaN) });
        } else estimator.halfCycle(row);
      },
      arcBegan: (at) => estimator.arcBegan(at),
      arcEnded: (at) => estimator.arcEnded(at),
    });
    const estimate = estimator.estimate()!;
    expect(estimate.steps).toBe(6);
    expect(Math.abs(estimate.ohmsR - 0.3)).toBeLessThan(0.02);
  });
});

describe('another load', () => {
  test('a step in quiet time: when, and how many volts', () => {
    const scene: RowScene = { ...quietScene, arcs: [], others: [[2.5, -3]] };
    const estimator = estimatorFor(scene);
    playRows(scene, estimator);
    expect(estimator.otherLoad()).toHaveLength(1);
    const [event] = estimator.otherLoad();
    expect(event!.at / scene.rateHz).toBeCloseTo(2.5, 1);
    expect(Math.abs(event!.volts + 3)).toBeLessThan(event!.halfWidthVolts);
    expect(event!.duringArc).toBe(false);
  });

  test('a step while the arc burns is told from the own sag', () => {
    const scene: RowScene = { ...quietScene, ...arcs(2, 3, 1), others: [[6.5, 2.4]] };
    const estimator = estimatorFor(scene);
    playRows(scene, estimator);
    expect(estimator.otherLoad()).toHaveLength(1);
    const [event] = estimator.otherLoad();
    expect(event!.at / scene.rateHz).toBeCloseTo(6.5, 1);
    expect(event!.volts).toBeCloseTo(2.4, 0);
    expect(event!.duringArc).toBe(true);
  });

  test('own arcs alone are no other load', () => {
    const scene = { ...quietScene, ...arcs(30, 0.6, 0.6) };
    const estimator = estimatorFor(scene);
    playRows(scene, estimator);
    expect(estimator.otherLoad()).toHaveLength(0);
  });

  test('the list is bounded', () => {
    const others: [number, number][] = [];
    for (let k = 0; k < 300; k++) others.push([1 + 2 * k, k % 2 === 0 ? -3 : 3]);
    const scene: RowScene = { ...quietScene, arcs: [], seconds: 602, others };
    const estimator = estimatorFor(scene);
    playRows(scene, estimator);
    expect(estimator.otherLoad()).toHaveLength(256);
    expect(estimator.otherLoad()[255]!.at / scene.rateHz).toBeCloseTo(599, 1);
  });
});

describe('properties', () => {
  /** Plays the scene with every row changed. */
  function changed(scene: RowScene, change: (row: HalfCycleRow) => HalfCycleRow, shift = 0) {
    const estimator = estimatorFor(scene);
    playRows(scene, {
      halfCycle: (row) => estimator.halfCycle(change(row)),
      arcBegan: (at) => estimator.arcBegan(at + shift),
      arcEnded: (at) => estimator.arcEnded(at + shift),
    });
    return estimator.estimate()!;
  }

  // Not to the last bit: which quiet differences count is asked in amperes.
  test('scaling volts scales the impedance', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.constantFrom(0.5, 2, 4), (seed, by) => {
        const scene = { ...quietScene, seed };
        const plain = estimateOf(scene)!;
        const scaled = changed(scene, (row) => ({
          ...row,
          urms: row.urms.map((v) => v * by),
          u1re: row.u1re.map((v) => v * by),
          u1im: row.u1im.map((v) => v * by),
        }));
        expect(scaled.ohmsR / by).toBeCloseTo(plain.ohmsR, 3);
        expect(scaled.ohmsX / by).toBeCloseTo(plain.ohmsX, 3);
        expect(scaled.openVolts / by).toBeCloseTo(plain.openVolts, 2);
        expect(scaled.varianceR / by ** 2 / plain.varianceR).toBeCloseTo(1, 1);
      }),
      { numRuns: 12 },
    );
  });

  test('a stream that begins later says the same', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (shift) => {
        const plain = estimateOf(quietScene)!;
        const later = changed(
          quietScene,
          (row) => ({
            ...row,
            start: row.start + shift,
            middle: row.middle + shift,
            end: row.end + shift,
          }),
          shift,
        );
        expect(later.ohmsR).toBeCloseTo(plain.ohmsR, 6);
        expect(later.ohmsX).toBeCloseTo(plain.ohmsX, 6);
        expect(later.at - shift).toBeCloseTo(plain.at, 6);
      }),
      { numRuns: 12 },
    );
  });

  test('a wider interval for a more restless supply', () => {
    let last = 0;
    for (const walk of [0.0001, 0.0003, 0.001]) {
      const estimate = estimateOf({ ...quietScene, ...arcs(3, 2, 2), walk, white: walk })!;
      const half = estimate.ohmsR95[1] - estimate.ohmsR;
      expect(half).toBeGreaterThan(last);
      last = half;
    }
  });
});
