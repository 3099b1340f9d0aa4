import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { SupplyEstimate } from '../../shared/metrology/supply-estimate.ts';
import {
  predictAtCurrent,
  predictAtFullLoad,
  predictAtImpedance,
  predictAtPower,
} from '../../shared/metrology/supply-prediction.ts';
import { loadedVolts } from '../../shared/rules/foretell.ts';

function supply(openVolts: number, ohmsR: number, ohmsX = 0, more = {}): SupplyEstimate {
  return {
    openVolts,
    openVoltsSd: 0,
    arcOpenVolts: 240,
    arcOpenLowVolts: 240,
    arcOpenSd: 0,
    ohmsR,
    ohmsX,
    ohmsR95: [ohmsR, ohmsR],
    ohmsX95: [ohmsX, ohmsX],
    varianceR: 0,
    varianceX: 0,
    covarianceRX: 0,
    coverage: 2,
    steps: 2,
    largestStepAmps: 20,
    lagRadians: 0,
    fundamentalShare: 1,
    at: 0,
    ...more,
  };
}

// [calc]: reckoned by hand from the relation that each names; no printed figure is copied.
describe('worked examples', () => {
  // W11 [calc], relation from Dugan et al., Electrical Power Systems Quality, from memory.
  test('W11: 600 A against 5,000 A of fault current at the same angle falls by 10.71 %', () => {
    // A load that would draw 600 A · E/V: the impedance divider Z/(Z + Zload).
    const open = 240;
    const ohms = open / 5000;
    const fallen = predictAtImpedance(supply(open, ohms), open / 600)!;
    expect(100 * (1 - fallen.volts / open)).toBeCloseTo(10.714, 3);
  });

  // W12 [calc] from Z = %Z·V²/S.
  test('W12: 25 kVA, 2 %, 240 V: 46.1 mΩ and a fault current of 5,208 A', () => {
    const ohms = (0.02 * 240 ** 2) / 25_000;
    expect(ohms).toBeCloseTo(0.0461, 4);
    const estimate = supply(240, 0, ohms);
    // The voltage of a lagging short circuit vanishes as the current nears E/|Z|.
    const nearly = predictAtCurrent(estimate, 5208, { lagRadians: Math.PI / 2 })!;
    expect(nearly.volts).toBeCloseTo(0, 0);
    expect(predictAtCurrent(estimate, 5209, { lagRadians: Math.PI / 2 })).toBeNull();
  });

  // W13 [calc] from V = E − Z·I as phasors.
  test('W13: 240 V, 0.2 + j0.05 Ω, 40 A at 0.8 lagging: 7.621 V; the short way says 7.600', () => {
    const estimate = supply(240, 0.2, 0.05, { lagRadians: Math.acos(0.8) });
    expect(240 - predictAtCurrent(estimate, 40)!.volts).toBeCloseTo(7.621, 3);
  });

  // W14 [calc] from V = (E + √(E² − 4RP))/2.
  test.each([
    { watts: 7600, open: 240, ohms: 0.13, volts: 235.81, amps: 32.23 },
    { watts: 7600, open: 240, ohms: 0.45, volts: 224.79, amps: 33.81 },
    { watts: 2000, open: 120, ohms: 0.5, volts: 110.99, amps: 18.02 },
  ])('W14: $watts W behind $ohms Ω on $open V', ({ watts, open, ohms, volts, amps }) => {
    const got = predictAtPower(supply(open, ohms), watts)!;
    expect(got.volts).toBeCloseTo(volts, 2);
    expect(got.amps).toBeCloseTo(amps, 2);
  });
});

const circuits = fc.record({
  open: fc.double({ min: 100, max: 260, noNaN: true }),
  ohmsR: fc.double({ min: 0.02, max: 0.9, noNaN: true }),
  ohmsX: fc.double({ min: 0, max: 0.2, noNaN: true }),
  lagRadians: fc.double({ min: -0.5, max: 0.9, noNaN: true }),
  amps: fc.double({ min: 1, max: 45, noNaN: true }),
});

describe('analytic', () => {
  test('E = |V + Z·I| for every answer, by current, power and impedance', () => {
    fc.assert(
      fc.property(circuits, ({ open, ohmsR, ohmsX, lagRadians, amps }) => {
        const estimate = supply(open, ohmsR, ohmsX, { lagRadians });
        const byCurrent = predictAtCurrent(estimate, amps)!;
        const watts = byCurrent.volts * amps * Math.cos(lagRadians);
        // Beyond half the open voltage the upper root of the power is another one.
        fc.pre(byCurrent.volts > 0.75 * open);
        const byPower = predictAtPower(estimate, watts)!;
        const byImpedance = predictAtImpedance(estimate, byCurrent.volts / amps);
        for (const { volts } of [byCurrent, byPower, byImpedance]) {
          const re = volts + amps * (ohmsR * Math.cos(lagRadians) + ohmsX * Math.sin(lagRadians));
          const im = amps * (ohmsX * Math.cos(lagRadians) - ohmsR * Math.sin(lagRadians));
          expect(Math.hypot(re, im) / open).toBeCloseTo(1, 9);
        }
        expect(byPower.amps / amps).toBeCloseTo(1, 9);
      }),
    );
  });

  test('the interval is that of the slopes, found by differences', () => {
    fc.assert(
      fc.property(circuits, ({ open, ohmsR, ohmsX, lagRadians, amps }) => {
        const of = (dE: number, dR: number, dX: number) =>
          supply(open + dE, ohmsR + dR, ohmsX + dX, { lagRadians });
        const sd = { openVoltsSd: 0.3, varianceR: 1e-4, varianceX: 4e-4, covarianceRX: 5e-5 };
        fc.pre(predictAtCurrent(of(0, 0, 0), amps)!.volts > 0.75 * open);
        const watts = 0.9 * open * amps * Math.cos(lagRadians);
        const ways = [
          (e: SupplyEstimate) => predictAtCurrent(e, amps)!,
          (e: SupplyEstimate) => predictAtPower(e, watts),
          (e: SupplyEstimate) => predictAtImpedance(e, open / amps),
        ];
        for (const way of ways) {
          const got = way({ ...of(0, 0, 0), ...sd });
          if (got === null) continue;
          const h = 1e-5;
          const e = (way(of(h, 0, 0))!.volts - way(of(-h, 0, 0))!.volts) / (2 * h);
          const r = (way(of(0, h, 0))!.volts - way(of(0, -h, 0))!.volts) / (2 * h);
          const x = (way(of(0, 0, h))!.volts - way(of(0, 0, -h))!.volts) / (2 * h);
          const variance = (e * 0.3) ** 2 + r * r * 1e-4 + x * x * 4e-4 + 2 * r * x * 5e-5;
          expect((got.hi - got.lo) / 4).toBeCloseTo(Math.sqrt(variance), 4);
        }
      }),
      { numRuns: 60 },
    );
  });

  test('a peaky current drops only by its fundamental', () => {
    const sine = predictAtCurrent(supply(240, 0.3), 30)!;
    const peaky = predictAtCurrent(supply(240, 0.3, 0, { fundamentalShare: 0.8 }), 30)!;
    expect(240 - peaky.volts).toBeCloseTo(0.8 * (240 - sine.volts), 9);
  });

  test('more than E²/4R cannot be carried', () => {
    const estimate = supply(120, 0.5);
    const most = 120 ** 2 / (4 * 0.5);
    expect(predictAtPower(estimate, most * 0.999)!.volts).toBeCloseTo(60, -1);
    expect(predictAtPower(estimate, most * 1.001)).toBeNull();
  });
});

describe('the rules foretell by the short way, along the load alone', () => {
  test('it leaves out the square of the cross drop over 2E, and no more', () => {
    fc.assert(
      fc.property(circuits, ({ open, ohmsR, ohmsX, lagRadians, amps }) => {
        const estimate = supply(open, ohmsR, Math.min(ohmsX, ohmsR), { lagRadians });
        const exact = predictAtCurrent(estimate, amps)!;
        fc.pre(exact.volts > 0.85 * open);
        const short = loadedVolts(estimate, amps, open, 'unknown');
        const drop = open - exact.volts;
        // What is left out is (I·(X cosφ − R sinφ))²/2E.
        const across =
          amps * (estimate.ohmsX * Math.cos(lagRadians) - ohmsR * Math.sin(lagRadians));
        expect(Math.abs(short - exact.volts)).toBeLessThan((0.6 * across ** 2) / open + 1e-9);
        expect(short).toBeGreaterThanOrEqual(exact.volts - 1e-9);
        expect(drop).toBeGreaterThan(0);
      }),
    );
  });
});

describe('full load of a plate', () => {
  const plate = { U1: 120, I1max: 20 };
  const estimate = supply(118, 0.5, 0.05, { varianceR: 1e-4 });

  test('a constant power draws more than I1max, an impedance less', () => {
    const power = predictAtFullLoad(estimate, plate, 'constant-power')!;
    const impedance = predictAtFullLoad(estimate, plate, 'constant-impedance')!;
    expect(power.amps * power.volts).toBeCloseTo(2400, 6);
    expect(power.amps).toBeGreaterThan(20);
    expect(impedance.amps / impedance.volts).toBeCloseTo(20 / 120, 9);
    expect(impedance.volts).toBeGreaterThan(power.volts);
  });

  test('unknown takes the worse for its lower end', () => {
    const unknown = predictAtFullLoad(estimate, plate, 'unknown')!;
    const power = predictAtFullLoad(estimate, plate, 'constant-power')!;
    expect(unknown.amps).toBe(20);
    expect(unknown.lo).toBe(power.lo);
    expect(unknown.volts).toBeGreaterThan(power.volts);
  });

  test('a supply that cannot carry a constant power leaves an unknown machine no lower end', () => {
    const thin = supply(115, 1.6);
    expect(predictAtFullLoad(thin, plate, 'constant-power')).toBeNull();
    expect(predictAtFullLoad(thin, plate, 'unknown')!.lo).toBe(0);
  });
});
