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
  /** Share of a half cycle in which the rectifier draws; 0 for a sine. */
  conduction: number;
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

/** Current of unit fundamental r.m.s., a function of the voltage's phase. */
function shapeOf(conduction: number): (phase: number) => number {
  if (conduction === 0) return (phase) => Math.SQRT2 * Math.sin(phase);
  const threshold = Math.cos((conduction * Math.PI) / 2);
  const raw = (phase: number) => {
    const s = Math.sin(phase);
    return Math.sign(s) * Math.max(0, Math.abs(s) - threshold) ** 1.5;
  };
  let fundamental = 0;
  for (let k = 0; k < 4096; k++) {
    const phase = (2 * Math.PI * k) / 4096;
    fundamental += (raw(phase) * Math.sin(phase) * Math.SQRT2) / 4096;
  }
  return (phase) => raw(phase) / fundamental;
}

/**
 * Samples v = e − R·i − L·di/dt for a current given by its shape, and pushes them in blocks.
 * The current is smoothed where the arc strikes and dies (2 ms), as an inductor would.
 */
export function playSamples(scene: SampledScene, meter: Meter, each: (end: number) => void): void {
  const random = uniform(scene.seed);
  const shape = shapeOf(scene.conduction);
  const henries = scene.ohmsX / (2 * Math.PI * scene.hertz);
  const block = 512;
  const v = new Float64Array(block);
  const i = new Float64Array(block);
  const over = 4;
  const dt = 1 / scene.rateHz / over;
  const phase0 = random() * 2 * Math.PI;
  let level = 1;
  let envelope = scene.idleAmps;
  let wanted = scene.idleAmps;
  let cycle = -1;
  let last = 0;
  for (let n = 0; n < scene.seconds * scene.rateHz; n++) {
    for (let k = 0; k < over; k++) {
      const seconds = n / scene.rateHz + (k - over + 1) * dt;
      const phase = 2 * Math.PI * scene.hertz * seconds + phase0;
      const now = Math.floor(phase / (2 * Math.PI));
      const burning = scene.arcs.some(([a, b]) => seconds >= a && seconds < b);
      if (now !== cycle) {
        cycle = now;
        level += scene.walk * gauss(random);
      }
      wanted = burning ? scene.arcAmps : scene.idleAmps;
      envelope += ((wanted - envelope) * dt) / 0.002;
      const wave = 1 + scene.ripple * Math.sin(2 * Math.PI * 7.3 * seconds);
      const amps = envelope * wave * shape(phase - 0.1);
      let e = Math.SQRT2 * scene.volts * level * Math.sin(phase);
      for (const [at, step] of scene.others) {
        if (seconds > at) e += Math.SQRT2 * step * Math.sin(phase);
      }
      for (const [order, part] of scene.harmonics) {
        e += Math.SQRT2 * scene.volts * part * Math.sin(order * phase + order);
      }
      if (k === over - 1) {
        v[n % block] =
          e -
          scene.ohmsR * amps -
          (henries * (amps - last)) / dt +
          scene.noiseVolts * gauss(random);
        i[n % block] = amps + scene.noiseAmps * gauss(random);
      }
      last = amps;
    }
    if (n % block === block - 1) {
      meter.push([v, i], block);
      each(n + 1);
    }
  }
}
