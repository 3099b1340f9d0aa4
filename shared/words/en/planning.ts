import { figuresWith } from '../figures.ts';
import { parts } from './parts.ts';
import { type Gun, withGun } from './with-gun.ts';

const { amps, given } = figuresWith('.');

type Process = keyof typeof parts.processes;
type Upstream = { ohmsR: number; ohmsX: number } | { shortCircuit: number };

const upstreamOf = (of: Upstream) =>
  'shortCircuit' in of
    ? `${given(of.shortCircuit)} A of short-circuit current at the panel`
    : `${given(of.ohmsR)} + j${given(of.ohmsX)} Ω upstream (half of IEC TR 60725)`;

/** What a plan says: of supplies that nobody measured, of what machines lack, of sets. */
export const planning = {
  nothingKnown: () =>
    'Nothing is known of this circuit but its name: say the size and length of its branch ' +
    'wire, or measure it.',
  breakerSaysNothing: () => 'A breaker alone says nothing of the voltage under load.',
  workedOut: () => 'Worked out from the wire described: measure before relying on it.',
  taken: (of: Upstream & { supply: number; openPercent: number; celsius: [number, number] }) =>
    `Taken, not measured: ${upstreamOf(of)}, give or take all of it; ${given(of.supply)} V at ` +
    `no load, give or take ${given(of.openPercent)} %; wire at ${of.celsius[0]} to ` +
    `${of.celsius[1]} °C. Common practice.`,

  notMadeFor: ({ process, gun }: Gun & { process: Process }) =>
    `${withGun(gun)}It is not made for ${parts.processes[process]}.`,
  classAsked: ({ least, plate, gun }: Gun & { least: number; plate: number }) =>
    `${withGun(gun)}A machine of ${given(least)} V or more is asked for; this one runs on ` +
    `${given(plate)} V.`,
  noWireSizes: ({ gun }: Gun) => `${withGun(gun)}The plate names no wire sizes.`,
  noOutput: () => 'The plate names no output.',
  outputShort: ({ most, least, on }: { most: number; least: number; on: number | null }) =>
    `It gives ${amps(most)} at most${on === null ? '' : ` on ${given(on)} V`}; ${amps(least)} ` +
    'is asked for.',
  outputShortThere: ({
    most,
    least,
    circuit,
  }: Record<'most' | 'least', number> & { circuit: string }) =>
    `On ${circuit} its output would fall to ${amps(most)} with the voltage; ${amps(least)} is ` +
    'asked for.',
  bestOn: ({ circuit }: { circuit: string }) => `Best on ${circuit}:`,
  noSuchSupply: () => 'Its plate meets the need on a supply voltage that no circuit here has.',

  noneSurely: ({ perhaps }: { perhaps: string[] }) =>
    `No circuit surely feeds a machine for it; ${perhaps.join(', ')} may do: measure first.`,
  noneMeets: () => 'No machine of the list meets it on a circuit that feeds it.',
  equalSet: () => 'As few machines, the same price.',
  cheapestSet: ({ less, more }: { less: number; more: number }) =>
    `The least money: ${given(less)} less, ${more} more to buy.`,
  asSmallSet: ({ dearer }: { dearer: number }) => `As few machines, ${given(dearer)} dearer.`,
  coversToo: ({ machine, by }: { machine: string; by: string[] }) =>
    `All that ${machine} covers here, ${by.join(' and ')} covers too.`,
};
