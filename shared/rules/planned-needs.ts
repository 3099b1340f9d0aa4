import type { Machine, Need } from '../protocol/planning.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Amperes, Watts } from '../units.ts';
import { parts } from '../words/en/parts.ts';
import { gunsOf } from './guns.ts';
import { lacking } from './voltage-class.ts';
import { amps } from './words.ts';

/** Wires of one trade size are written to a thousandth of an inch. */
const sameWire = 0.0005;

/**
 * What a machine on one of its plate's lines lacks for a need with the gun that lacks least; empty
 * where it meets it. What the plate leaves out is not proven, and so is lacked.
 */
export const lacksFor = (machine: Machine, rated: PlateSupply, need: Need): string[] =>
  bestGun(machine, rated, need).lacks;

/** The gun that meets the need, or comes nearest; null for a machine that names none. */
export function bestGun(
  machine: Machine,
  rated: PlateSupply,
  need: Need,
): { gun: string | null; lacks: string[] } {
  const common = outputLacks(machine, rated, need);
  return gunsOf(machine)
    .map(({ name, as }) => {
      const own = [
        ...processLacks(as, need),
        ...classLacks(as, rated, need),
        ...wireLacks(as, need),
      ];
      const told = name === null ? own : own.map((says) => `With its “${name}” gun: ${says}`);
      return { gun: name, lacks: [...told, ...common] };
    })
    .reduce((best, each) => (each.lacks.length < best.lacks.length ? each : best));
}

const processLacks = (machine: Machine, { process }: Need): string[] =>
  machine.processes?.includes(process) ? [] : [`It is not made for ${parts.processes[process]}.`];

function classLacks(machine: Machine, { U1 }: PlateSupply, need: Need): string[] {
  const { process, pulse = false, minSupplyVolts = 0, wireInches = null } = need;
  const asked = lacking({ process, pulse, wireInches }, machine.pulse === true, U1);
  if (U1 >= minSupplyVolts) return asked;
  return [
    ...asked,
    `A machine of ${minSupplyVolts} V or more is asked for; this one runs on ${U1} V.`,
  ];
}

function wireLacks({ wireInches }: Machine, need: Need): string[] {
  const asked = need.wireInches;
  if (asked === undefined) return [];
  if (!wireInches) return ['The plate names no wire sizes.'];
  if (wireInches.some((each) => Math.abs(each - asked) < sameWire)) return [];
  return [`The plate names no ${asked.toFixed(3)} in wire.`];
}

function outputLacks(machine: Machine, rated: PlateSupply, { minAmps = 0 }: Need): string[] {
  if (minAmps === 0) return [];
  if (!machine.ratings?.length) return ['The plate names no output.'];
  const most = mostOutput(machine, rated);
  if (most >= minAmps) return [];
  const where = machine.supply.length > 1 ? ` on ${rated.U1} V` : '';
  return [`It gives ${amps(most)} at most${where}; ${amps(minAmps)} is asked for.`];
}

/**
 * Largest rated welding current on a line of the plate. The table of outputs is that of the
 * strongest line: on a weaker one a point counts where no more watts come out than go in.
 */
export function mostOutput(machine: Machine, rated: PlateSupply): Amperes {
  const input = (line: PlateSupply): Watts => line.U1 * line.I1max;
  const strongest = Math.max(...machine.supply.map(input));
  const phases = machine.phases === 3 ? Math.sqrt(3) : 1;
  const possible = (machine.ratings ?? []).filter(
    ({ I2, U2 }) => input(rated) === strongest || I2 * U2 <= phases * input(rated),
  );
  return Math.max(0, ...possible.map(({ I2 }) => I2));
}
