import { describe, expect, test } from 'vitest';
import { sensorClassA, sensorClassS } from '../../shared/metrology/uncertainty.ts';
import { judged, plate240 } from './judged.ts';
import { quietSupply, type Synth, samples, truth } from './synth.ts';

const rates = [1_000, 2_000, 5_000, 10_240, 50_000, 100_000];
const cases = rates.flatMap((rateHz) =>
  [50, 60].flatMap((hertz) =>
    ['clean', 'harmonics and noise'].map((how) => ({ rateHz, hertz, how })),
  ),
);

/** Orders under a fifth of the sampling rate: what every sensor's filter lets through. */
function record(rateHz: number, hertz: number, dirty: boolean): Synth {
  const low = ([order]: readonly [number, number, number]) => order * hertz < rateHz / 5;
  return {
    ...quietSupply,
    rateHz,
    hertz: hertz * 1.0013,
    seconds: 5,
    volts: 231.7,
    arcs: [{ startS: 1.2357, endS: 3.4119, amps: 23.4 }],
    phase: 1.1,
    ...(dirty
      ? {
          harmonicsU: (
            [
              [3, 0.02, 0.3],
              [5, 0.03, 2],
            ] as const
          ).filter(low),
          harmonicsI: (
            [
              [3, 0.3, -1],
              [5, 0.15, 2.2],
              [7, 0.08, 0.4],
            ] as const
          ).filter(low),
          noiseVolts: 0.3,
          noiseAmps: 0.05,
        }
      : {}),
  };
}

describe('a record of known truth', () => {
  test.each(cases)('$rateHz/s, $hertz Hz, $how', ({ rateHz, hertz, how }) => {
    const synth = record(rateHz, hertz, how !== 'clean');
    const { arcs, frequencyHz } = judged(rateHz, samples(synth));
    expect(arcs).toHaveLength(1);
    const [arc] = arcs;
    const [channel] = arc!.channels;
    const true1 = truth(synth, 23.4);
    const idle = truth(synth, synth.idleAmps);
    const cycle = 1 / synth.hertz;
    expect(Math.abs(arc!.startS - 1.2357)).toBeLessThan(cycle);
    expect(Math.abs(arc!.endS - 3.4119)).toBeLessThan(cycle);
    expect(Math.abs(channel!.meanVolts / true1.volts - 1)).toBeLessThan(0.001);
    expect(Math.abs(channel!.idleVolts! / idle.volts - 1)).toBeLessThan(0.001);
    expect(Math.abs(channel!.minVolts200ms / true1.volts - 1)).toBeLessThan(0.001);
    expect(Math.abs(channel!.meanAmps / true1.amps - 1)).toBeLessThan(0.005);
    expect(Math.abs(channel!.maxAmps200ms / true1.amps - 1)).toBeLessThan(0.005);
    expect(Math.abs(channel!.meanWatts / true1.watts - 1)).toBeLessThan(0.005);
    expect(channel!.powerFactor).toBeCloseTo(true1.watts / true1.volts / true1.amps, 2);
    expect(Math.abs(frequencyHz! / synth.hertz - 1)).toBeLessThan(1e-4);
  });

  test('the supply is found within its interval', () => {
    const synth = { ...quietSupply, noiseVolts: 0.2, noiseAmps: 0.05 };
    const [supply] = judged(synth.rateHz, samples(synth)).supply;
    expect(supply!.openVolts).toBeCloseTo(240, 0);
    expect(supply!.ohmsR95[0]).toBeLessThanOrEqual(0.12);
    expect(supply!.ohmsR95[1]).toBeGreaterThanOrEqual(0.12);
    expect(supply!.ohmsX95[0]).toBeLessThanOrEqual(0.04);
    expect(supply!.ohmsX95[1]).toBeGreaterThanOrEqual(0.04);
  });

  test('a stated sensor widens the interval by its class, and so what full load may do', () => {
    const synth = { ...quietSupply, noiseVolts: 0.2, noiseAmps: 0.05 };
    const told = (sensor?: typeof sensorClassA) => {
      const given = sensor ? { plate: plate240, sensor } : { plate: plate240 };
      const { supply, findings } = judged(synth.rateHz, samples(synth), given);
      const [lo, hi] = supply[0]!.ohmsR95;
      const [low, high] = findings.find(({ rule }) => rule === 'full-load')!.interval!;
      return { lo, hi, wide: hi - lo, volts: high - low };
    };
    const [none, a, s] = [told(), told(sensorClassA), told(sensorClassS)];
    expect(s.wide).toBeGreaterThan(a.wide);
    // 0.12 Ω · √(volts² + amps²) and the phase of 0.04 Ω, over √3, four half-widths: by this the
    // classes differ, whatever the steps leave open.
    const own = (volts: number, amps: number, degrees: number) =>
      (4 / Math.sqrt(3)) *
      Math.hypot(0.12 * Math.hypot(volts, amps), (0.04 * degrees * Math.PI) / 180);
    const apart = Math.sqrt(own(0.005, 0.02, 1) ** 2 - own(0.001, 0.01, 0.5) ** 2);
    expect(Math.sqrt(s.wide ** 2 - a.wide ** 2)).toBeCloseTo(apart, 4);
    for (const each of [a, s]) expect(each.lo < 0.12 && 0.12 < each.hi).toBe(true);
    // Figures and findings reckon with class S where none is stated.
    expect(none.wide).toBeCloseTo(s.wide, 12);
    expect(none.volts).toBeCloseTo(s.volts, 9);
    expect(a.volts).toBeLessThan(s.volts);
  });

  test('IEEE 1459 example: volts, amperes, watts and power factor of a distorted record', () => {
    const degrees = (angle: number) => (angle * Math.PI) / 180;
    const synth: Synth = {
      ...quietSupply,
      seconds: 4,
      volts: 100,
      ohmsR: 0,
      ohmsX: 0,
      idleAmps: 0.2,
      arcs: [{ startS: 1, endS: 3.5, amps: 100 }],
      lag: degrees(30),
      phase: degrees(0),
      harmonicsU: [
        [3, 0.08, degrees(-70)],
        [5, 0.15, degrees(140)],
        [7, 0.05, degrees(20)],
      ],
      harmonicsI: [
        [3, 0.2, degrees(-165)],
        [5, 0.15, degrees(233)],
        [7, 0.1, degrees(288)],
      ],
    };
    const [channel] = judged(synth.rateHz, samples(synth)).arcs[0]!.channels;
    expect(channel!.meanVolts).toBeCloseTo(101.5579, 2);
    expect(channel!.meanAmps).toBeCloseTo(103.5616, 2);
    expect(channel!.meanWatts / 8632.789).toBeCloseTo(1, 4);
    expect(channel!.powerFactor).toBeCloseTo(0.8208, 4);
    expect(channel!.thdVoltsPercent).toBeCloseTo(17.72, 1);
    expect(channel!.thdAmpsPercent).toBeCloseTo(26.926, 1);
  });
});

describe('a dip on one phase of three', () => {
  /** 230 V a phase; phase `dipped` falls to 0.6 for 1.5 cycles from its own tenth crossing. */
  function threePhases(hertz: number, dipped: number): Float64Array[] {
    const length = 10_240;
    return [0, 1, 2].flatMap((phase) => [
      Float64Array.from({ length }, (_, n) => {
        const cycle = (hertz * n) / 10_240 - phase / 3;
        const level = phase === dipped && cycle >= 9.999 && cycle < 11.499 ? 0.6 : 1;
        return Math.SQRT2 * 230 * level * Math.sin(2 * Math.PI * cycle);
      }),
      new Float64Array(length),
    ]);
  }

  test.each([
    [50, 1],
    [50, 2],
    [60, 1],
    [60, 2],
  ])('%i Hz, pair %i: ± 0.2 % of the declared voltage, ± 1 cycle', (hertz, dipped) => {
    const { sags, nominal } = judged(10_240, threePhases(hertz, dipped));
    expect(nominal.volts).toBe(230);
    expect(sags).toHaveLength(1);
    expect(sags[0]!.channel).toBe(dipped + 1);
    expect(Math.abs(sags[0]!.residualVolts - 138)).toBeLessThan(0.002 * 230);
    expect(Math.abs(sags[0]!.durationS * hertz - 1.5)).toBeLessThan(1);
    expect(Math.abs(sags[0]!.startS * hertz - 10 - dipped / 3)).toBeLessThan(0.51);
  });
});
