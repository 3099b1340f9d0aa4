import { ArcDetector } from '../../shared/metrology/arc-detector.ts';
import { Meter } from '../../shared/metrology/meter.ts';
import { SupplyEstimator } from '../../shared/metrology/supply-estimator.ts';
import type { Drawn } from './coverage-study.ts';
import { gauss, uniform } from './supply-model.ts';

/** A sensor, and what current the machine draws: what the samples' condition is made of. */
export interface Sampling {
  rateHz: number;
  bits: number;
  /** Orders and parts of the current's fundamental; those over a fifth of the rate are left out. */
  harmonics: readonly (readonly [number, number])[];
  arcs: number;
  /** Of E from half cycle to half cycle, V. */
  driftVolts: number;
}

export const sine = [] as const;
/** A rectifier with a capacitor behind it, without power-factor correction. */
export const inverter = [
  [3, 0.62],
  [5, 0.28],
  [7, 0.08],
  [9, 0.06],
  [11, 0.05],
] as const;

const BLOCK = 2048;

/**
 * Samples in closed form: v = E − R·i − L·di/dt with i a sum of sines whose size is another one in
 * each half cycle, E a random walk of half cycles, a load of constant power that flutters by 3 %.
 * Both are rounded to the sensor's counts.
 */
export function drawSamples(seed: number, sampling: Sampling): Drawn {
  const { rateHz, bits, driftVolts } = sampling;
  const u = uniform(seed * 104_729 + bits);
  const low = u() < 0.4;
  const volts = low ? 120 : 240;
  const hertz = (u() < 0.7 ? 60 : 50) + 0.1 * (u() - 0.5);
  const ohmsR = low ? 0.2 + 0.6 * u() : 0.08 + 0.27 * u();
  const ohmsX = 0.02 + 0.08 * u();
  const arcAmps = low ? 12 + 10 * u() : 18 + 16 * u();
  const idleAmps = u();
  const lag = 0.3 * (u() - 0.5);
  const orders = sampling.harmonics.filter(([order]) => order * hertz < rateHz / 5);
  const arcs: [number, number][] = [];
  let at = 1 + u();
  for (let k = 0; k < sampling.arcs; k++) {
    arcs.push([at, at + 1 + u()]);
    at += 2.5 + u();
  }
  // A sensor's range: a quarter over the crest, twice the arc's peak.
  const most = 2 ** (bits - 1);
  const voltCount = (1.25 * Math.SQRT2 * volts) / most;
  const peak = orders.reduce((sum, [, part]) => sum + part, 1);
  const ampCount = (2 * Math.SQRT2 * arcAmps * peak) / most;
  const nominalHertz = hertz > 55 ? 60 : 50;
  const estimator = new SupplyEstimator({ rateHz, pairs: 1, nominalHertz, pair: 0 });
  const detector = new ArcDetector(
    { rateHz },
    {
      began: (start) => estimator.arcBegan(start),
      ended: (_start, end) => estimator.arcEnded(end),
    },
  );
  const meter = new Meter(
    { rateHz, pairs: 1, nominalHertz, phasors: true },
    {
      halfCycle: (row) => {
        estimator.halfCycle(row);
        detector.halfCycle(row);
      },
    },
  );
  const [v, i] = [new Float64Array(BLOCK), new Float64Array(BLOCK)];
  let open = volts;
  let half = -1;
  let flutter = 1;
  let terminal: number = volts;
  const frames = Math.ceil(at * rateHz);
  for (let n = 0; n < frames; n++) {
    const t = n / rateHz;
    const turns = hertz * t;
    if (Math.floor(2 * turns) !== half) {
      half = Math.floor(2 * turns);
      open += driftVolts * gauss(u);
      flutter = 1 + 0.03 * gauss(u);
      terminal = open;
      for (let pass = 0; pass < 4; pass++)
        terminal = open - ((ohmsR * arcAmps * volts) / terminal) * flutter;
    }
    const burning = arcs.some(([a, b]) => t >= a && t < b);
    const size = Math.SQRT2 * (burning ? (arcAmps * flutter * volts) / terminal : idleAmps);
    const angle = 2 * Math.PI * (turns % 1);
    let current = size * Math.cos(angle - lag);
    let drop = ohmsR * current - ohmsX * size * Math.sin(angle - lag);
    for (const [order, part] of orders) {
      const turned = order * angle + order;
      current += size * part * Math.cos(turned);
      drop += size * part * (ohmsR * Math.cos(turned) - order * ohmsX * Math.sin(turned));
    }
    const seen = Math.SQRT2 * open * Math.cos(angle) - drop + 0.05 * gauss(u);
    v[n % BLOCK] = voltCount * Math.round(seen / voltCount);
    i[n % BLOCK] = ampCount * Math.round((current + 0.02 * gauss(u)) / ampCount);
    if (n % BLOCK === BLOCK - 1) meter.push([v, i], BLOCK);
  }
  meter.push([v, i], frames % BLOCK);
  meter.end();
  detector.end();
  estimator.end();
  return { estimate: estimator.estimate(), ohmsR, ohmsX };
}
