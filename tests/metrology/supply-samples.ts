import type { Meter } from '../../shared/metrology/meter.ts';
import { gauss, uniform } from './supply-model.ts';

/** What the sampled scene is made of; SI units. */
export interface SampledScene {
  seed: number;
  rateHz: number;
  hertz: number;
  volts: number;
  ohmsR: number;
  ohmsX: number;
  waveform: 'sine' | 'rectifier' | 'six-pulse';
  /** Voltage–current pairs; three are a third of a turn apart. */
  pairs: 1 | 3;
  arcAmps: number;
  idleAmps: number;
  ripple: number;
  /** Random walk of the background's magnitude, part a cycle. */
  walk: number;
  /** Harmonics of the supply itself: order and part. */
  harmonics: [number, number][];
  /** Sensor noise, V and A. */
  noiseVolts: number;
  noiseAmps: number;
  arcs: [number, number][];
  seconds: number;
  others: [number, number][];
}

/** Current before scaling, a function of the voltage's phase. */
const raw: Record<SampledScene['waveform'], (phase: number) => number> = {
  sine: Math.sin,
  // A capacitor charged over half of each half cycle.
  rectifier: (phase) => {
    const sine = Math.sin(phase);
    return Math.sign(sine) * Math.max(0, Math.abs(sine) - Math.SQRT1_2) ** 1.5;
  },
  // 120° blocks with the slopes that the supply's inductance gives them.
  'six-pulse': (phase) => {
    const sine = Math.sin(phase);
    return Math.sign(sine) * Math.min(1, Math.max(0, (Math.abs(sine) - 0.45) / 0.2));
  },
};

/** The same with a fundamental of 1 A r.m.s. */
function shapeOf(waveform: SampledScene['waveform']): (phase: number) => number {
  const shape = raw[waveform];
  let fundamental = 0;
  for (let k = 0; k < 4096; k++) {
    const phase = (2 * Math.PI * k) / 4096;
    fundamental += (shape(phase) * Math.sin(phase) * Math.SQRT2) / 4096;
  }
  return (phase) => shape(phase) / fundamental;
}

const BLOCK = 512;
/** Steps a sample, for di/dt. */
const OVER = 4;
/** The current rises and falls as an inductor lets it. */
const RISE_S = 0.002;

/** Samples v = e − R·i − L·di/dt for a current given by its shape, and pushes them in blocks. */
export function playSamples(scene: SampledScene, meter: Meter, each: (end: number) => void): void {
  const random = uniform(scene.seed);
  const shape = shapeOf(scene.waveform);
  const henries = scene.ohmsX / (2 * Math.PI * scene.hertz);
  const channels = Array.from({ length: 2 * scene.pairs }, () => new Float64Array(BLOCK));
  const last = new Float64Array(scene.pairs);
  const dt = 1 / scene.rateHz / OVER;
  const phase0 = random() * 2 * Math.PI;
  let level = 1;
  let envelope = scene.idleAmps;
  let cycle = -1;
  for (let n = 0; n < scene.seconds * scene.rateHz; n++) {
    for (let k = 0; k < OVER; k++) {
      const seconds = n / scene.rateHz + (k - OVER + 1) * dt;
      const turned = 2 * Math.PI * scene.hertz * seconds + phase0;
      if (Math.floor(turned / (2 * Math.PI)) !== cycle) {
        cycle = Math.floor(turned / (2 * Math.PI));
        level += scene.walk * gauss(random);
      }
      const burning = scene.arcs.some(([a, b]) => seconds >= a && seconds < b);
      envelope += (((burning ? scene.arcAmps : scene.idleAmps) - envelope) * dt) / RISE_S;
      const amplitude = envelope * (1 + scene.ripple * Math.sin(2 * Math.PI * 7.3 * seconds));
      let open = scene.volts * level;
      for (const [at, step] of scene.others) if (seconds > at) open += step;
      for (let pair = 0; pair < scene.pairs; pair++) {
        const phase = turned - (2 * Math.PI * pair) / 3;
        const amps = amplitude * shape(phase - 0.1);
        if (k === OVER - 1) {
          let e = Math.SQRT2 * open * Math.sin(phase);
          for (const [order, part] of scene.harmonics) {
            e += Math.SQRT2 * scene.volts * part * Math.sin(order * phase + order);
          }
          const drop = scene.ohmsR * amps + (henries * (amps - last[pair]!)) / dt;
          channels[2 * pair]![n % BLOCK] = e - drop + scene.noiseVolts * gauss(random);
          channels[2 * pair + 1]![n % BLOCK] = amps + scene.noiseAmps * gauss(random);
        }
        last[pair] = amps;
      }
    }
    if (n % BLOCK === BLOCK - 1) {
      meter.push(channels, BLOCK);
      each(n + 1);
    }
  }
}
