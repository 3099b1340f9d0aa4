import type { Plate, PlateSupply } from '../protocol/plate.ts';
import type { Amperes, Fraction, Volts, Watts } from '../units.ts';

/**
 * Largest rated welding current on a line of the plate. The table of outputs is that of the
 * strongest line: on a weaker one a point counts where no more watts come out than go in.
 */
export function mostOutput(machine: Plate, rated: PlateSupply): Amperes {
  const input = (line: PlateSupply): Watts => line.U1 * line.I1max;
  const strongest = Math.max(...machine.supply.map(input));
  const phases = machine.phases === 3 ? Math.sqrt(3) : 1;
  const possible = (machine.ratings ?? []).filter(
    ({ I2, U2 }) => input(rated) === strongest || I2 * U2 <= phases * input(rated),
  );
  return Math.max(0, ...possible.map(({ I2 }) => I2));
}

/** Power into the arc at a welding current, U2 = 14 V + 0.05 Ω · I2: IEC 60974-1, 11.2 (memory). */
export const arcWatts = (weldAmps: Amperes): Watts => weldAmps * (14 + 0.05 * weldAmps);

/** The welding current that takes a power along the same line. */
export const weldAmpsOf = (watts: Watts): Amperes => (Math.sqrt(14 * 14 + 0.2 * watts) - 14) / 0.1;

/** What is left of the rated power at a voltage, by V²: never more than all of it. */
export const powerLeft = (volts: Volts, U1: Volts): Fraction => Math.min(1, volts / U1) ** 2;

/** Welding current that a machine of constant impedance still gives at a voltage. */
export const weldAmpsAt = (machine: Plate, rated: PlateSupply, volts: Volts): Amperes =>
  weldAmpsOf(powerLeft(volts, rated.U1) * arcWatts(mostOutput(machine, rated)));
