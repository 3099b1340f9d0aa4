import type { Machine, Need } from '../protocol/planning.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import { namesWire } from '../protocol/wire-size.ts';
import { gunsOf } from './guns.ts';
import { mostOutput } from './rated-output.ts';
import { type Said, say } from './say.ts';
import { lacking } from './voltage-class.ts';

/**
 * What a machine on one of its plate's lines lacks for a need with the gun that lacks least; empty
 * where it meets it. What the plate leaves out is not proven, and so is lacked.
 */
export const lacksFor = (machine: Machine, rated: PlateSupply, need: Need): Said[] =>
  bestGun(machine, rated, need).lacks;

/** The gun that meets the need, or comes nearest; null for a machine that names none. */
export function bestGun(
  machine: Machine,
  rated: PlateSupply,
  need: Need,
): { gun: string | null; lacks: Said[] } {
  const common = outputLacks(machine, rated, need);
  return gunsOf(machine)
    .map(({ name, as }) => {
      const own = [
        ...processLacks(as, need, name),
        ...classLacks(as, rated, need, name),
        ...wireLacks(as, need, name),
      ];
      return { gun: name, lacks: [...own, ...common] };
    })
    .reduce((best, each) => (each.lacks.length < best.lacks.length ? each : best));
}

type Gun = string | null;

const processLacks = (machine: Machine, { process }: Need, gun: Gun): Said[] =>
  machine.processes?.includes(process) ? [] : [say('notMadeFor', { process, gun })];

function classLacks(machine: Machine, { U1 }: PlateSupply, need: Need, gun: Gun): Said[] {
  const { process, pulse = false, minSupplyVolts: least = 0, wireInches = null } = need;
  const asked = lacking({ process, pulse, wireInches }, machine.pulse === true, U1, gun);
  return U1 >= least ? asked : [...asked, say('classAsked', { least, plate: U1, gun })];
}

function wireLacks({ wireInches }: Machine, need: Need, gun: Gun): Said[] {
  const asked = need.wireInches;
  if (asked === undefined) return [];
  if (!wireInches) return [say('noWireSizes', { gun })];
  if (namesWire(wireInches, asked)) return [];
  return [say('noWireSize', { inches: asked, gun })];
}

function outputLacks(machine: Machine, rated: PlateSupply, { minAmps = 0 }: Need): Said[] {
  if (minAmps === 0) return [];
  if (!machine.ratings?.length) return [say('noOutput')];
  const most = mostOutput(machine, rated);
  if (most >= minAmps) return [];
  const on = machine.supply.length > 1 ? rated.U1 : null;
  return [say('outputShort', { most, least: minAmps, on })];
}
