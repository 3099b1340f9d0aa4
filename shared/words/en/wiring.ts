import { figuresWith, type Gauge, type Length } from '../figures.ts';
import { type Gun, withGun } from './with-gun.ts';

const { amps, fixed, gauge, length, percent, volts } = figuresWith('.');

export interface Wire {
  wire: Gauge;
  metal: 'copper' | 'aluminium';
}
export interface SupplyClass {
  supply: number;
  plate: number;
  /** What the circuit is described as, where it measures as something else. */
  described: number | null;
}
export type Count = { count: number };

const decides = 'For a licensed electrician and the local code to decide.';
const named = ({ described }: SupplyClass) =>
  described === null ? 'This is' : `The circuit, described as ${described} V, measures as`;
const apart = ({ supply, plate }: SupplyClass) =>
  `${percent(Math.abs(supply / plate - 1))} ${supply < plate ? 'under' : 'over'}`;
const wired = ({ wire, metal }: Wire) => `${gauge(wire)} ${metal}`;
const machines = (count: number) => (count === 1 ? 'one machine' : `${count} machines`);

/** What the rules about wiring, cords and the class of supply say. */
export const wiring = {
  noClass: () => 'No plate or no supply voltage is known to compare.',
  classFits: (of: SupplyClass) =>
    `${named(of)} a ${volts(of.supply)} supply, and the plate takes ${volts(of.plate)}.`,
  classNear: (of: SupplyClass) =>
    `${named(of)} a ${volts(of.supply)} supply under a ${volts(of.plate)} plate: ` +
    `${apart(of)} before any load, with little left for a sag.`,
  classFar: (of: SupplyClass) =>
    `${named(of)} a ${volts(of.supply)} supply under a ${volts(of.plate)} plate: ${apart(of)}.`,
  classHigh: (of: SupplyClass & { limit: number }) =>
    `${named(of)} a ${volts(of.supply, of.limit)} supply; the machine is made for ` +
    `${volts(of.plate)} and takes no more than ${volts(of.limit, of.supply)}: ` +
    'it can be destroyed.',
  classHighNear: (of: SupplyClass & { limit: number }) =>
    `${named(of)} a ${volts(of.supply, of.limit)} supply, and the ${volts(of.plate)} plate ` +
    `allows no more than ${volts(of.limit, of.supply)}: it may rise above that.`,
  classOther: (of: SupplyClass) =>
    `${named(of)} a ${volts(of.supply)} supply; the machine is made for ${volts(of.plate)} ` +
    'and belongs on another outlet.',
  service208: () =>
    'This is a 208 V service (208Y/120), by the angle between its legs: ' +
    'no cord or wire makes 240 V of it.',
  askOtherSupply: () => 'Ask for another outlet, a transformer, or a machine made for this supply.',
  suitsWork: ({ gun }: Gun) =>
    gun === null
      ? 'The machine suits the work.'
      : `The machine suits the work with its “${gun}” gun.`,
  notSetUp: ({ gun }: Gun) => `${withGun(gun)}It is not set up for this process.`,
  procedureAsks: ({ name, least, plate }: { name: string; least: number; plate: number }) =>
    `Procedure ${name} asks for a machine of at least ${least} V; this one's plate says ` +
    `${plate} V.`,
  aluminiumClass: ({ gun }: Gun) =>
    `${withGun(gun)}Aluminium needs a machine of the 200–240 V class; this one is of the ` +
    '120 V class.',
  brazeClass: ({ gun }: Gun) =>
    `${withGun(gun)}MIG brazing needs a machine of the 200–240 V class, not of the 120 V class.`,
  noPulse: ({ gun }: Gun) => `${withGun(gun)}The work asks for pulse; the plate names none.`,
  noWireSize: ({ inches, gun }: Gun & { inches: number }) =>
    `${withGun(gun)}The plate names no wire of ${fixed(inches, 3)} in ` +
    `(${fixed(25.4 * inches, 1)} mm).`,

  dropNotKnown: () => 'The drop at full load is not known: the supply could not be estimated.',
  totalDrop: ({ amps: at, part, usual }: { amps: number; part: number; usual: number }) =>
    `At ${amps(at)} the voltage would fall by ${percent(part)} of ` +
    `its no-load value; ${percent(usual, 0)} in all is the usual advice.`,
  fromOpenVoltage: () => 'Measured from the no-load voltage: transformer and service are in it.',
  branchDrop: ({ amps: at, part, usual }: { amps: number; part: number; usual: number }) =>
    `The branch wire alone takes ${percent(part)} at ${amps(at)}; ` +
    `${percent(usual, 0)} is the usual advice.`,

  noPlate: () => 'No rating plate was given.',
  wiringNotDescribed: () => 'Wire, breaker and receptacle are not described.',
  electricianDecides: () => decides,
  branchCarries: ({ carries, least, ...of }: Wire & { carries: number; least: number }) =>
    `The branch's ${wired(of)} may carry ${amps(carries)}; ${amps(least)} effective is asked.`,
  fullCurrent: (of: Wire & { amps: number; carries: number; good: boolean }) =>
    `Workplace safety law asks ${amps(of.amps)}, the full primary current, of ${wired(of)}: ` +
    (of.good ? 'it has that.' : `it has ${amps(of.carries)}.`),
  stricterRule: () => `The stricter of the two rules for one machine. ${decides}`,
  neverLarger: () => `Never a larger breaker for tripping alone. ${decides}`,
  breakerLarge: ({ breaker, most }: { breaker: number; most: number }) =>
    `A ${amps(breaker)} breaker; ${amps(most)} is the most for this machine.`,
  breakerLargeForWire: (of: { breaker: number; most: number; wire: Gauge }) =>
    `A ${amps(of.breaker)} breaker; ${amps(of.most)} is the most for ` +
    `${gauge(of.wire)} wire feeding a welder.`,
  noCord: () => 'No cord, or no rating plate, is described.',
  feederNoMachine: () => 'No machine of the list suits a circuit of it.',
  feederNotDescribed: () => 'Its conductor and breaker are not described.',
  feederNoLength: () => "The feeder's length is not known: no voltage follows.",
  feederCarries: ({
    count,
    carries,
    least,
    ...of
  }: Wire & Count & Record<'carries' | 'least', number>) =>
    `The feeder's ${wired(of)} may carry ${amps(carries)}; ${machines(count)} ` +
    `${count === 1 ? 'asks' : 'ask'} ${amps(least)} effective.`,
  feederShares: () => `All of the two largest, 85, 70 and then 60 % of the others. ${decides}`,
  feederFull: (of: Wire & { amps: number; carries: number; good: boolean }) =>
    `With the full primary current of each it is ${amps(of.amps)}: ` +
    (of.good ? 'it has that.' : `${wired(of)} has ${amps(of.carries)}.`),
  feederStricter: () => `The stricter count; a group may be fed by less. ${decides}`,
  feederBreaker: ({ breaker, least, count }: Count & { breaker: number; least: number }) =>
    `The feeder's ${amps(breaker)} breaker stands against ${amps(least)} effective of ` +
    `${machines(count)}.`,
  feederBreakerLarge: (of: { breaker: number; most: number; wire: Gauge }) =>
    `A ${amps(of.breaker)} breaker; ${amps(of.most)} is the most for ` +
    `${gauge(of.wire)} wire feeding welders.`,
  feederEnd: (
    of: Count & { said: boolean; amps: number; value: number; needs: number; low: number | null },
  ) =>
    `With ${machines(of.count)} at once (${
      of.said ? 'as the shop says' : 'half of them and two at least: common practice'
    }), ${amps(of.amps)}, its far end would have ${volts(of.value, of.needs)}` +
    (of.low === null ? '. ' : `, and may have ${volts(of.low, of.needs)}. `) +
    `There ${volts(of.needs, of.value)} is needed, before branch and cords.`,
  feederMeasure: () => 'Worked out from the wire described: measure before relying on it.',
  feederDrop: (of: { run: Length; part: number; amps: number; usual: number }) =>
    `Its ${length(of.run)} take ${percent(of.part)} at ${amps(of.amps)}; ` +
    `${percent(of.usual, 0)} is the usual advice for a feeder.`,
};
