import { figuresWith } from '../figures.ts';

const { amps, percent, volts } = figuresWith('.');

export interface OutputAt {
  volts: number;
  plate: number;
}
export type OutputLeast = OutputAt & { unit: string; least: number; gives: number };

const given = (value: number, unit: string) =>
  unit === 'A' ? `${amps(value)} of welding current` : `${percent(value, 0)} of its rated output`;

/** What the rule about a machine's output says. */
export const output = {
  outputNotKnown: () => 'What the machine would give at full load is not known.',
  mustOnlyWork: () =>
    'Within 10 % of its rated voltage a machine must work; its rated output is not promised.',
  outputBelow: ({ volts: at, low }: { volts: number; low: number }) =>
    `At ${volts(at, low)} the machine would be under the ${volts(low, at)} from which it must ` +
    'work: what it gives there, if anything, is not known.',
  outputFull: ({ volts: at, plate }: OutputAt) =>
    `At full load the machine would have ${volts(at, plate)}, its plate names ` +
    `${volts(plate, at)}: that takes less than 1 % of its output.`,
  outputHeld: ({
    volts: at,
    plate,
    more,
    amps: drawn,
  }: OutputAt & { more: number; amps: number }) =>
    `This machine holds its output: at ${volts(at, plate)} it would draw ${amps(drawn)}, ` +
    `${percent(more, 0)} more than at ${volts(plate, at)}.`,
  outputFalls: ({ volts: at, plate, less }: OutputAt & { less: number }) =>
    `This machine's output follows the voltage: at ${volts(at, plate)} it would give ` +
    `${percent(less, 0)} less power than at ${volts(plate, at)}.`,
  outputMayFall: ({ volts: at, plate, less }: OutputAt & { less: number }) =>
    "How this machine's output follows the voltage is not known. If it is a transformer " +
    `machine, at ${volts(at, plate)} it would give ${percent(less, 0)} less power than at ` +
    `${volts(plate, at)}; its plate can say so.`,
  outputEnough: (of: OutputLeast) =>
    `The job asks for at least ${given(of.least, of.unit)}; at ${volts(of.volts, of.plate)} ` +
    `this machine would give ${given(of.gives, of.unit)}.`,
  outputShortOf: (of: OutputLeast) =>
    `The job asks for at least ${given(of.least, of.unit)}; at ${volts(of.volts, of.plate)} ` +
    `this machine may give no more than ${given(of.gives, of.unit)}.`,
  outputNotNamed: ({ least }: { least: number }) =>
    `The job asks for at least ${amps(least)} of welding current; the plate names no output.`,
  outputUnproven: (of: OutputLeast) =>
    `The job asks for at least ${given(of.least, of.unit)}. Whether this machine's output ` +
    `follows the voltage is not known; if it does, at ${volts(of.volts, of.plate)} it would ` +
    `give ${given(of.gives, of.unit)}. Say on its plate whether it does.`,
};
