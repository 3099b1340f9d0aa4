/** A supply E behind R + jX, and arcs on it: samples with a truth known in closed form. */
export interface Synth {
  rateHz: number;
  hertz: number;
  seconds: number;
  /** Open-circuit r.m.s. */
  volts: number;
  ohmsR: number;
  /** Reactance at the fundamental. */
  ohmsX: number;
  idleAmps: number;
  arcs: readonly { startS: number; endS: number; amps: number }[];
  /** Current behind the voltage E, radians; the voltage's phase at sample 0. */
  lag: number;
  phase: number;
  /** Order, part of the fundamental, phase. Of the source, and of the current. */
  harmonicsU?: readonly (readonly [number, number, number])[];
  harmonicsI?: readonly (readonly [number, number, number])[];
  /** R.m.s. of white noise, V and A. */
  noiseVolts?: number;
  noiseAmps?: number;
  /** Multiplies E from a moment on: another load on the supply. */
  steps?: readonly { atS: number; factor: number }[];
}

export const quietSupply: Synth = {
  rateHz: 10_240,
  hertz: 60,
  seconds: 8,
  volts: 240,
  ohmsR: 0.12,
  ohmsX: 0.04,
  idleAmps: 0.3,
  arcs: [{ startS: 1.2, endS: 4.4, amps: 24 }],
  lag: 0.25,
  phase: 0.7,
};

/** R.m.s. of the voltage behind the supply at a steady current, harmonics of both in it. */
export function truth(synth: Synth, amps: number): { volts: number; amps: number; watts: number } {
  const orders = new Map<number, { uRe: number; uIm: number; iRe: number; iIm: number }>();
  const at = (order: number) => {
    const known = orders.get(order) ?? { uRe: 0, uIm: 0, iRe: 0, iIm: 0 };
    orders.set(order, known);
    return known;
  };
  const add = (order: number, size: number, angle: number, what: 'u' | 'i') => {
    const each = at(order);
    each[`${what}Re`] += size * Math.cos(angle);
    each[`${what}Im`] += size * Math.sin(angle);
  };
  add(1, synth.volts, synth.phase, 'u');
  add(1, amps, synth.phase - synth.lag, 'i');
  for (const [order, part, angle] of synth.harmonicsU ?? [])
    add(order, part * synth.volts, angle, 'u');
  for (const [order, part, angle] of synth.harmonicsI ?? []) add(order, part * amps, angle, 'i');
  let [vv, ii, watts] = [(synth.noiseVolts ?? 0) ** 2, (synth.noiseAmps ?? 0) ** 2, 0];
  for (const [order, { uRe, uIm, iRe, iIm }] of orders) {
    const x = synth.ohmsX * order;
    const vRe = uRe - synth.ohmsR * iRe + x * iIm;
    const vIm = uIm - synth.ohmsR * iIm - x * iRe;
    vv += vRe ** 2 + vIm ** 2;
    ii += iRe ** 2 + iIm ** 2;
    watts += vRe * iRe + vIm * iIm;
  }
  return { volts: Math.sqrt(vv), amps: Math.sqrt(ii), watts };
}

/** The samples: v and i, in the closed form of sines (the current starts and stops at once). */
export function samples(synth: Synth, seed = 1): [Float64Array, Float64Array] {
  const frames = Math.round(synth.seconds * synth.rateHz);
  const volts = new Float64Array(frames);
  const amps = new Float64Array(frames);
  const noise = gaussian(seed);
  const w = 2 * Math.PI * synth.hertz;
  const u: readonly (readonly [number, number, number])[] = [
    [1, 1, synth.phase],
    ...(synth.harmonicsU ?? []),
  ];
  const i: readonly (readonly [number, number, number])[] = [
    [1, 1, synth.phase - synth.lag],
    ...(synth.harmonicsI ?? []),
  ];
  for (let n = 0; n < frames; n++) {
    const t = n / synth.rateHz;
    const arc = synth.arcs.find(({ startS, endS }) => t >= startS && t < endS);
    const size = Math.SQRT2 * (arc?.amps ?? synth.idleAmps);
    const factor = synth.steps?.findLast(({ atS }) => t >= atS)?.factor ?? 1;
    let v = 0;
    let current = 0;
    for (const [order, part, angle] of u)
      v += factor * Math.SQRT2 * synth.volts * part * Math.cos(order * w * t + angle);
    for (const [order, part, angle] of i) {
      const turn = order * w * t + angle;
      current += size * part * Math.cos(turn);
      v -= size * part * synth.ohmsR * Math.cos(turn);
      v += size * part * synth.ohmsX * order * Math.sin(turn);
    }
    volts[n] = v + (synth.noiseVolts ? synth.noiseVolts * noise() : 0);
    amps[n] = current + (synth.noiseAmps ? synth.noiseAmps * noise() : 0);
  }
  return [volts, amps];
}

/** Seeded normal numbers: xorshift and Box–Muller. */
export function gaussian(seed: number): () => number {
  let state = seed >>> 0 || 1;
  const uniform = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return ((state >>> 0) + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}
