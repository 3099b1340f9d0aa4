import { figuresWith } from '../figures.ts';

const { amps, fixed, percent, seconds, volts } = figuresWith('.');

/** Ohms before and after, watts in one spot at most, and since when. */
export interface Changed {
  before: number;
  after: number;
  watts: number;
  atS: number;
}
export interface Ran {
  low: number;
  high: number;
  /** Deepest dip, part of the voltage. */
  dip: number;
}

const ohms = (value: number) => `${fixed(value, 2)} Ω`;
const stop = 'Stop. Do not weld on this outlet; call an electrician.';
const spot = (watts: number) => `up to ${fixed(watts, 0)} W of heat in one spot`;

/** Why there is no estimate of the supply, by the refusal's code. */
const whyRefused: Record<string, (figures: Record<string, number>) => string> = {
  'no-step': () => 'No step of current was large and quiet enough to estimate the supply.',
  wide: ({ ohms: r = 0, halfOhms = 0 }) =>
    `The supply's resistance came out as ${ohms(r)} ± ${ohms(halfOhms)}: too wide to predict from.`,
  'frequency-moves': () =>
    "The supply's frequency moves as the load comes and goes: its impedance cannot be told.",
  'negative-resistance': ({ ohms: r = 0 }) =>
    `The supply's resistance came out as ${ohms(r)}: a voltage regulator, or another load in step.`,
  'negative-reactance': ({ ohms: x = 0 }) =>
    `The supply's reactance came out as ${ohms(x)}: no circuit has that.`,
  'large-reactance': ({ ohms: x = 0 }) =>
    `The supply's reactance came out as ${ohms(x)}: more than a branch circuit has.`,
  'near-load': ({ ohms: r = 0 }) =>
    `The supply's resistance came out as ${ohms(r)}: near that of the load itself.`,
  'edges-disagree': () =>
    'The ends of the arcs show less resistance than their starts: no wire does that.',
  misses: ({ misses = 0, edges = 0 }) =>
    `${misses} of ${edges} load steps do not fit the prediction from the others.`,
  generator: () => 'A generator has no fixed impedance to predict from.',
};

/** What the rule about connections says, and the rules about a supply that cannot be told. */
export const connection = {
  connectionSteady: () => 'The resistance of the supply held steady.',
  connectionNotTold: () => 'Whether a connection changes could not be told.',
  connectionGrew: ({ before, after, watts, atS }: Changed) =>
    `At ${seconds(atS)} the resistance of the supply rose from ${ohms(before)} to ` +
    `${ohms(after)}. If nobody changed the cord, a connection is failing, ${spot(watts)}. ${stop}`,
  connectionHeats: ({ before, after, watts }: Changed) =>
    `While the arc burns the resistance of the supply rises from ${ohms(before)} to ` +
    `${ohms(after)}: a connection is heating, ${spot(watts)}. ${stop}`,
  connectionWanders: ({ before, after, watts }: Changed) =>
    `The resistance of the supply jumps between ${ohms(before)} and ${ohms(after)}: ` +
    `a connection is loose, ${spot(watts)}. ${stop}`,
  connectionPerhaps: ({ before, after }: Changed) =>
    `As this arc started the resistance of the supply went from ${ohms(before)} to ` +
    `${ohms(after)}. Stop the arc: if it stays, a connection is failing.`,
  connectionSmall: ({ before, after }: Changed) =>
    `The resistance of the supply went from ${ohms(before)} to ${ohms(after)}. ` +
    'If nobody changed the cord, have the plug and the outlet checked.',
  connectionWatts: ({ low, high, amps: at }: { low: number; high: number; amps: number }) =>
    `At ${amps(at)} the added resistance makes ${fixed(low, 0)} to ${fixed(high, 0)} W of heat. ` +
    'Look between the service and the sensor: plug, outlet, terminals, breaker.',

  supplyRefused: ({ code, params }: { code: string; params: Record<string, number> }) =>
    (whyRefused[code] ?? whyRefused['no-step']!)(params),
  loadContradicted: (of: { predicted: number; volts: number; amps: number }) =>
    `Predicted is at least ${volts(of.predicted, of.volts)} at ${amps(of.amps)}, but only ` +
    `${volts(of.volts, of.predicted)} was measured there: full load is not proven.`,

  generator: ({ low, high, dip, kva }: Ran & { kva: number | null }) =>
    `This is a generator: ${fixed(low, 1)} to ${fixed(high, 1)} Hz, ` +
    `and the voltage dips by ${percent(dip)} as an arc starts.` +
    (kva === null ? '' : ` For this machine it needs at least ${fixed(kva, 1)} kVA.`),
  generatorClass: ({ name, volts: settled }: { name: string | null; volts: number | null }) =>
    (name === null
      ? 'Dips and frequency are beyond class G1 of ISO 8528-5.'
      : `Dips and frequency are within class ${name} of ISO 8528-5.`) +
    (settled === null ? '' : ` The voltage settled at ${volts(settled)}.`),
  generatorLight: ({ part, amps: at }: { part: number; amps: number }) =>
    `A generator: only what was measured counts, and the largest load was ${percent(part, 0)} of ` +
    `the plate's ${amps(at)}. Weld at the heaviest setting to prove it.`,
  generatorHolds: (of: { value: number; limit: number; amps: number }) =>
    `On this generator the voltage settles at about ${volts(of.value, of.limit)} at ` +
    `${amps(of.amps)}; the plate needs ${volts(of.limit, of.value)}.`,
};
