import type { Circuit, Cord } from '../protocol/circuit.ts';
import type { Amperes, Ohms, Volts, Watts } from '../units.ts';
import type { Setting } from './facts.ts';
import { wiresInLoop } from './loops.ts';
import { runOhms } from './wire.ts';

/**
 * Copper of a cord in use: from a cold floor to the 60 °C that cords are rated for, 40 °C taken.
 * Common practice, no source.
 */
export const copperCelsius = { lo: 20, taken: 40, hi: 60 } as const;

/** Ohms at the temperature taken, with the ends of its range. */
export interface CordOhms {
  ohms: Ohms;
  lo: Ohms;
  hi: Ohms;
}

const none: CordOhms = { ohms: 0, lo: 0, hi: 0 };

/** Cords between the sensor and the machine; none where the sensor sits at the machine. */
export function cordsBetween(circuit: Circuit | null): readonly Cord[] {
  return circuit === null || circuit.sensorAt === 'machine' ? [] : (circuit.cords ?? []);
}

/** Ohms that the cords add to one loop: of both wires, or of the one that its current meets. */
export function cordOhms(setting: Pick<Setting, 'circuit' | 'ampsPerLine'>): CordOhms {
  const cords = cordsBetween(setting.circuit);
  if (cords.length === 0) return none;
  const conductors = wiresInLoop(setting);
  const at = (celsius: number) =>
    conductors * cords.reduce((sum, cord) => sum + runOhms(cord, 'flexible', celsius), 0);
  return { ohms: at(copperCelsius.taken), lo: at(copperCelsius.lo), hi: at(copperCelsius.hi) };
}

/**
 * R.m.s. behind a resistance: v' = v − R·i gives V'² = V² − 2RP + R²I² for any waveform. Its
 * reactance is left out: under 10 % of R up to 6 AWG (0.03 to 0.04 Ω/kft in a cord, from memory).
 */
export function behindOhms(volts: Volts, amps: Amperes, watts: Watts, ohms: Ohms): Volts {
  return Math.sqrt(Math.max(0, volts * volts - 2 * ohms * watts + (ohms * amps) ** 2));
}
