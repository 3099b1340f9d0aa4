import { describe, expect, test } from 'vitest';
import {
  ampsBudget,
  budgetOf,
  foretoldBudget,
  intervalOf,
  ohmsRBudget,
  ohmsXBudget,
  sensorClassA,
  sensorClassS,
  throughSensor,
  voltsBudget,
  wattsBudget,
} from '../../shared/metrology/uncertainty.ts';

const estimate = {
  openVolts: 240,
  openVoltsSd: 0.2,
  arcOpenVolts: 240,
  arcOpenLowVolts: 240,
  arcOpenSd: 0.2,
  ohmsR: 0.3,
  ohmsX: 0.05,
  ohmsR95: [0.28, 0.32] as [number, number],
  ohmsX95: [0.03, 0.07] as [number, number],
  varianceR: 1e-4,
  varianceX: 1e-4,
  covarianceRX: 0,
  coverage: 2,
  steps: 10,
  largestStepAmps: 25,
  lagRadians: 0,
  fundamentalShare: 1,
  at: 0,
};

describe('budgets after JCGM 100', () => {
  test('lines add as squares and k = 2 expands them', () => {
    const budget = budgetOf([
      { from: 'sensor ratio', type: 'B', standard: 3 },
      { from: 'noise', type: 'A', standard: 4 },
    ]);
    expect(budget).toMatchObject({ combined: 5, expanded: 10, k: 2 });
    expect(intervalOf(100, budget)).toEqual([90, 110]);
  });

  test('230 V with class A: 0.1 % is 0.133 V rectangular, and little else', () => {
    const budget = voltsBudget(230, sensorClassA, 0.4, 100);
    const [ratio, noise, sync] = budget.contributions;
    expect(ratio!.standard).toBeCloseTo(0.23 / Math.sqrt(3), 12);
    expect(noise!.standard).toBeCloseTo(0.04, 12);
    expect(sync!.standard).toBeCloseTo((230 * 1e-4) / Math.sqrt(3), 12);
    expect(budget.expanded).toBeCloseTo(2 * Math.hypot(0.132791, 0.04, 0.013279), 5);
  });

  test('a worse sensor says less', () => {
    const a = ampsBudget(25, sensorClassA, 0.1, 12).expanded;
    const s = ampsBudget(25, sensorClassS, 0.1, 12).expanded;
    expect(s).toBeGreaterThan(1.8 * a);
    expect(s).toBeLessThan(2.2 * a);
  });

  test('phase error hurts power only where the current lags', () => {
    const phase = (powerFactor: number) =>
      wattsBudget(240, 25, powerFactor, sensorClassS, 0, 1).contributions.find(
        ({ from }) => from === 'sensor phase',
      )!.standard;
    expect(phase(1)).toBe(0);
    expect(phase(0)).toBeCloseTo((6000 * Math.PI) / 180 / Math.sqrt(3), 6);
  });

  test('phase error turns R into X: 1° of 0.3 Ω is 5 mΩ', () => {
    const line = (budget: ReturnType<typeof ohmsXBudget>) =>
      budget.contributions.find(({ from }) => from === 'sensor phase')!.standard * Math.sqrt(3);
    expect(line(ohmsXBudget(estimate, sensorClassS))).toBeCloseTo(0.005236, 6);
    expect(line(ohmsRBudget(estimate, sensorClassS))).toBeCloseTo(0.000873, 6);
  });

  test('a foretold voltage carries sensor and estimate, and the estimate once', () => {
    const budget = foretoldBudget(
      { volts: 231, lo: 230, hi: 232, amps: 30 },
      estimate,
      sensorClassA,
    );
    const own = budget.contributions.find(({ from }) => from === 'estimate')!;
    expect(own.standard).toBeCloseTo(0.5, 12);
    // 231 V · 0.1 %, 9 V · 1 %, 30 A · 50 mΩ · 0.5°; each a limit over √3.
    const others = Math.hypot(0.231, 0.09, (30 * 0.05 * Math.PI) / 360) / Math.sqrt(3);
    expect(budget.combined).toBeCloseTo(Math.hypot(0.5, others), 9);
  });

  test('nothing is free: noise falls with readings, the sensor does not', () => {
    const few = voltsBudget(230, sensorClassA, 1, 1).combined;
    const many = voltsBudget(230, sensorClassA, 1, 1e6).combined;
    expect(many).toBeLessThan(few);
    expect(many).toBeGreaterThan(0.13);
  });

  test('through a sensor an estimate is wider by the sensor’s part, and the same in value', () => {
    const wide = throughSensor(estimate, sensorClassS);
    // R: 0.3 Ω · √(0.5² + 2²) %, and 1° of 0.05 Ω; each a limit over √3, k = 2.
    const turn = Math.PI / 180;
    const own = (r: number, x: number) =>
      (2 / Math.sqrt(3)) * Math.hypot(r * Math.hypot(0.005, 0.02), x * turn);
    const half = ([lo, hi]: [number, number]) => (hi - lo) / 2;
    expect(half(wide.ohmsR95)).toBeCloseTo(Math.hypot(0.02, own(0.3, 0.05)), 12);
    expect(half(wide.ohmsX95)).toBeCloseTo(Math.hypot(0.02, own(0.05, 0.3)), 12);
    expect([wide.ohmsR, wide.ohmsX, wide.openVolts]).toEqual([0.3, 0.05, 240]);
    // The coverage factor is in the variance too, whatever it is.
    for (const coverage of [2, 3.2]) {
      const { varianceR } = throughSensor({ ...estimate, coverage }, sensorClassS);
      const widths = Math.hypot(coverage * 0.01, own(0.3, 0.05));
      expect(coverage * Math.sqrt(varianceR)).toBeCloseTo(widths, 12);
    }
  });

  test('a ratio error leaves R over X alone, a phase error leaves |Z| alone', () => {
    const certain = { ...estimate, varianceR: 0, varianceX: 0, covarianceRX: 0 };
    const { ohmsR, ohmsX } = certain;
    const of = (voltsPercent: number, phaseDegrees: number) => {
      const told = throughSensor(certain, { voltsPercent, ampsPercent: 0, phaseDegrees });
      const { varianceR, varianceX, covarianceRX } = told;
      const along = (a: number, b: number) =>
        (a * a * varianceR + 2 * a * b * covarianceRX + b * b * varianceX) / (a * a + b * b);
      return { along: along(ohmsR, ohmsX), across: along(-ohmsX, ohmsR) };
    };
    const ratio = of(1, 0);
    expect(ratio.across).toBeLessThan(1e-9 * ratio.along);
    const phase = of(0, 1);
    expect(phase.along).toBeLessThan(1e-9 * phase.across);
  });

  test('whatever a sensor’s errors, within their limits, the true impedance is inside', () => {
    const { voltsPercent, ampsPercent, phaseDegrees } = sensorClassS;
    let outside = 0;
    const steps = [-0.9, -0.45, 0, 0.45, 0.9];
    for (const u of steps)
      for (const i of steps)
        for (const p of steps) {
          const ratio = (1 + (u * voltsPercent) / 100) / (1 + (i * ampsPercent) / 100);
          const turn = (p * phaseDegrees * Math.PI) / 180;
          const ohmsR = ratio * (0.3 * Math.cos(turn) - 0.05 * Math.sin(turn));
          const ohmsX = ratio * (0.3 * Math.sin(turn) + 0.05 * Math.cos(turn));
          const exact = { ohmsR, ohmsX, varianceR: 0, varianceX: 0 };
          const seen = throughSensor(
            { ...estimate, ...exact, ohmsR95: [ohmsR, ohmsR], ohmsX95: [ohmsX, ohmsX] },
            sensorClassS,
          );
          const inside = ([lo, hi]: [number, number], truth: number) => lo <= truth && truth <= hi;
          if (!inside(seen.ohmsR95, 0.3) || !inside(seen.ohmsX95, 0.05)) outside += 1;
        }
    expect(outside / steps.length ** 3).toBeLessThan(0.05);
  });
});
