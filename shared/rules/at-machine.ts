import type { Amperes, Volts, Watts } from '../units.ts';
import { behindOhms, cordOhms, cordsBetween } from './cord-drop.ts';
import type { Setting } from './facts.ts';
import type { Reading } from './finding.ts';
import { machineVolts } from './wiring.ts';

/** One loop's reading that a verdict stands on. */
export interface LoopLoad {
  volts: Volts;
  amps: Amperes;
  watts: Watts;
}

/**
 * Voltage at the machine from what the sensor read: as measured at the machine's end, less the
 * cords' drop from an outlet. The interval holds the sensor's accuracy (`part` of the volts), and
 * the cord's temperature.
 */
export function voltsAtMachine(
  setting: Setting,
  loops: readonly LoopLoad[],
  part: number,
): Reading {
  const cord = cordOhms(setting);
  const behind = (ohms: number, off: number) =>
    machineVolts(
      loops.map(({ volts, amps, watts }) =>
        // A current sensor that sits the wrong way round turns the sign alone.
        behindOhms(volts * (1 + off), amps, Math.abs(watts), ohms),
      ),
    );
  return { value: behind(cord.ohms, 0), lo: behind(cord.hi, -part), hi: behind(cord.lo, part) };
}

/** Current of the most loaded line. */
export const mostAmps = (
  { ampsPerLine }: Pick<Setting, 'ampsPerLine'>,
  loops: readonly Pick<LoopLoad, 'amps'>[],
): Amperes => Math.max(...loops.map(({ amps }) => amps)) / ampsPerLine;

/** The figures of a sentence about a voltage that was held, or not; worked out behind a cord? */
export const held = (
  setting: Setting,
  low: Volts,
  limit: Volts,
  loops: readonly Pick<LoopLoad, 'amps'>[],
) => ({
  low,
  limit,
  amps: mostAmps(setting, loops),
  cord: cordsBetween(setting.circuit).length > 0,
  place: setting.place ?? 'machine',
});
