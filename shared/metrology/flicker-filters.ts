import type { Hertz } from '../units.ts';

/** Lamp and supply that a flickermeter stands for: it decides the weighting and the low-pass. */
export type Lamp = '120V60Hz' | '230V50Hz';

/** Coefficients of one lamp's weighting filter, turns a second. */
interface Weighting {
  k: number;
  lambda: Hertz;
  f1: Hertz;
  f2: Hertz;
  f3: Hertz;
  f4: Hertz;
  /** Corner of the low-pass against the doubled mains frequency. */
  lowPass: Hertz;
  /** Sinusoidal change ΔV/V of 8.8 Hz that reads 1 at its peak (Table 1). */
  reference: number;
}

/**
 * IEC 61000-4-15 ed. 2, Table 3 and block 3: from memory, and checked against the figures of
 * Tables 1, 2 and 5 by tests.
 */
export const WEIGHTINGS: Record<Lamp, Weighting> = {
  '230V50Hz': {
    k: 1.74802,
    lambda: 4.05981,
    f1: 9.15494,
    f2: 2.27979,
    f3: 1.22535,
    f4: 21.9,
    lowPass: 35,
    reference: 0.0025,
  },
  '120V60Hz': {
    k: 1.6357,
    lambda: 4.167375,
    f1: 9.077169,
    f2: 2.939902,
    f3: 1.394468,
    f4: 17.31512,
    lowPass: 42,
    reference: 0.00321,
  },
};

/** Values a section: b0, b1, b2, a1, a2 (a0 = 1). */
const PER_SECTION = 5;
const TURN = 2 * Math.PI;

/** Second-order sections in a row (transposed direct form II), one sample at a time. */
export class Cascade {
  private readonly rateHz: Hertz;
  private readonly coefficients: Float64Array;
  private readonly state: Float64Array;

  constructor(rateHz: Hertz, sections: readonly Float64Array[]) {
    this.rateHz = rateHz;
    this.coefficients = new Float64Array(sections.length * PER_SECTION);
    sections.forEach((section, n) => {
      this.coefficients.set(section, n * PER_SECTION);
    });
    this.state = new Float64Array(2 * sections.length);
  }

  next(input: number): number {
    const { coefficients: c, state } = this;
    let x = input;
    for (let s = 0, k = 0; s < state.length; s += 2, k += PER_SECTION) {
      const y = c[k]! * x + state[s]!;
      state[s] = c[k + 1]! * x - c[k + 3]! * y + state[s + 1]!;
      state[s + 1] = c[k + 2]! * x - c[k + 4]! * y;
      x = y;
    }
    return x;
  }

  reset(): void {
    this.state.fill(0);
  }

  /** Magnitude of the response at a frequency. */
  gainAt(hertz: Hertz): number {
    const c = this.coefficients;
    const turn = (TURN * hertz) / this.rateHz;
    let gain = 1.0;
    for (let k = 0; k < c.length; k += PER_SECTION) {
      gain *= size(c[k]!, c[k + 1]!, c[k + 2]!, turn) / size(1, c[k + 3]!, c[k + 4]!, turn);
    }
    return gain;
  }
}

/** |a + b·z⁻¹ + c·z⁻²| on the unit circle. */
function size(a: number, b: number, c: number, turn: number): number {
  const re = a + b * Math.cos(turn) + c * Math.cos(2 * turn);
  const im = b * Math.sin(turn) + c * Math.sin(2 * turn);
  return Math.hypot(re, im);
}

/**
 * The analogue section (n0 + n1·s + n2·s²)/(d0 + d1·s + d2·s²) by the bilinear transform, true at
 * zero and at `exactHertz`.
 */
function bilinear(
  rateHz: Hertz,
  exactHertz: Hertz,
  n: readonly [number, number, number],
  d: readonly [number, number, number],
): Float64Array {
  const w = TURN * exactHertz;
  const c = w / Math.tan(w / (2 * rateHz));
  const a0 = d[0] + d[1] * c + d[2] * c * c;
  return Float64Array.of(
    (n[0] + n[1] * c + n[2] * c * c) / a0,
    (2 * n[0] - 2 * n[2] * c * c) / a0,
    (n[0] - n[1] * c + n[2] * c * c) / a0,
    (2 * d[0] - 2 * d[2] * c * c) / a0,
    (d[0] - d[1] * c + d[2] * c * c) / a0,
  );
}

/**
 * Block 3: high-pass of first order at 0.05 Hz, Butterworth low-pass of sixth order, and the
 * weighting of lamp, eye and brain
 * k·ω1·s/(s² + 2λs + ω1²) · (1 + s/ω2)/((1 + s/ω3)(1 + s/ω4)).
 */
export function perceptionFilter(rateHz: Hertz, lamp: Lamp): Cascade {
  const { k, lambda, f1, f2, f3, f4, lowPass } = WEIGHTINGS[lamp];
  const wl = TURN * lowPass;
  const wh = TURN * 0.05;
  const w1 = TURN * f1;
  const w3 = TURN * f3;
  const w4 = TURN * f4;
  const butterworth = [1, 3, 5].map((odd) =>
    bilinear(
      rateHz,
      lowPass,
      [wl * wl, 0, 0],
      [wl * wl, 2 * wl * Math.sin((odd * Math.PI) / 12), 1],
    ),
  );
  return new Cascade(rateHz, [
    bilinear(rateHz, 0.05, [0, 1, 0], [wh, 1, 0]),
    ...butterworth,
    bilinear(rateHz, f1, [0, k * w1, 0], [w1 * w1, 2 * TURN * lambda, 1]),
    bilinear(rateHz, f4, [1, 1 / (TURN * f2), 0], [1, 1 / w3 + 1 / w4, 1 / (w3 * w4)]),
  ]);
}
