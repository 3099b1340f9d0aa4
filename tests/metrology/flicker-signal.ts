import type { Flickermeter } from '../../shared/metrology/flicker.ts';

/** A mains voltage whose amplitude is modulated, as the tables of IEC 61000-4-15 have it. */
export interface Modulation {
  rateHz: number;
  hertz: number;
  /** Frequency of the modulation; a full period is two changes. */
  modulationHertz: number;
  /** ΔV/V, full swing, as a part of one. */
  change: number;
  shape: 'sinusoidal' | 'rectangular';
}

/** Small, so that no peak of Pinst is missed between two looks at it. */
const BLOCK = 64;

/** Pushes seconds of it, block by block; `seen` is called after each block. */
export function play(meter: Flickermeter, m: Modulation, seconds: number, seen?: () => void): void {
  const block = new Float64Array(BLOCK);
  const frames = Math.round(seconds * m.rateHz);
  const carrier = (2 * Math.PI * m.hertz) / m.rateHz;
  const turn = m.modulationHertz / m.rateHz;
  for (let at = 0; at < frames; at += BLOCK) {
    const length = Math.min(BLOCK, frames - at);
    for (let n = 0; n < length; n++) {
      const phase = ((at + n) * turn) % 1;
      const wave = m.shape === 'sinusoidal' ? Math.sin(2 * Math.PI * phase) : phase < 0.5 ? 1 : -1;
      block[n] = 325 * Math.sin(carrier * (at + n)) * (1 + (m.change / 2) * wave);
    }
    meter.push(block, length);
    seen?.();
  }
}
