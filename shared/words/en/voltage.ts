import { figuresWith } from '../figures.ts';

const { amps, fixed, given, percent, seconds, volts } = figuresWith('.');

type Place = 'machine' | 'outlet' | 'unstated';

/** A voltage against a limit, at a current; `cord`: worked out behind a cord. */
export interface Held {
  low: number;
  limit: number;
  amps: number;
  cord: boolean;
  place?: Place;
}
/** A voltage over its limit, or near it, and what it was with the machine idle. */
export interface Rise {
  high: number;
  limit: number;
  idle: number;
}
export interface Foretold {
  value: number;
  lo: number;
  limit: number;
  amps: number;
  place?: Place;
}

/** What was seen of a load, beside what must be; `full` is the plate's I1max. */
export interface ThinLoad {
  full: number;
  leastAmps: number;
  leastS: number;
  amps: number;
  seconds: number;
}

const ohms = (pair: [number, number] | null) =>
  pair ? `${fixed(pair[0], 3)} + j${fixed(pair[1], 3)} Ω` : '?';
const behind = (cord: boolean, place?: Place) => (cord ? ' behind the cord' : at(place));
/** Where the voltage is told of, unless that is the machine. */
const at = (place?: Place) =>
  place === 'unstated' ? ' at the sensor' : place === 'outlet' ? ' at the outlet' : '';

/** What the rules about voltage at the machine say. */
export const voltage = {
  noPlateForVoltage: () => 'No rating plate was given to hold the voltage to.',
  samplesLost: ({ part }: { part: number }) =>
    `${percent(part, 0)} of this arc's samples were lost on the way.`,
  voltageHeld: ({ low, limit, amps: load, cord, place }: Held) =>
    `The voltage${behind(cord, place)} held at ${volts(low, limit)} or more at ${amps(load)}; ` +
    `the machine must work from ${volts(limit, low)} up.`,
  voltageNear: ({ low, limit, amps: load, cord, place }: Held) =>
    `The voltage${behind(cord, place)} fell to ${volts(low, limit)} at ${amps(load)}, ` +
    `too near the ${volts(limit, low)} that the plate needs.`,
  voltageFell: ({ low, limit, amps: at, cord }: Held) =>
    `The voltage${behind(cord)} fell to ${volts(low, limit)} at ${amps(at)}; ` +
    `the plate needs ${volts(limit, low)}.`,
  fall: ({ open, low }: { open: number; low: number }) =>
    `From ${volts(open, low)} with the machine idle to ${volts(low, open)} under load: ` +
    `a drop of ${percent((open - low) / open)}.`,
  voltageHigh: ({ high, limit }: { high: number; limit: number }) =>
    `The voltage is ${volts(high, limit)}, more than the ` +
    `${volts(limit, high)} that the plate allows: the machine can be damaged.`,
  voltageRose: ({ high, limit, idle }: Rise) =>
    `While the arc burned the voltage rose to ${volts(high, limit)} for 200 ms or longer, more ` +
    `than the ${volts(limit, high)} that the plate allows: the machine can be damaged. ` +
    `With the machine idle it was ${volts(idle, limit)}.`,
  voltageRoseNear: ({ high, limit, idle }: Rise) =>
    `While the arc burned the voltage rose to ${volts(high, limit)} for 200 ms or longer, too ` +
    `near the ${volts(limit, high)} that the plate allows. ` +
    `With the machine idle it was ${volts(idle, limit)}.`,
  findSwell: () =>
    'A supply that rises under load: look for a loose neutral first, then for large loads that ' +
    "switch off, for capacitors that switch on, and at a generator's regulator.",
  checkTaps: () => 'Check the supply class and the transformer taps.',

  noPlateForStrike: () => 'No rating plate was given to hold the strike to.',
  strikeNotSeen: () => 'The strike of this arc was not seen whole.',
  strikeHeld: ({ low, limit, amps: load, cord, place }: Held) =>
    `At the strike the voltage${behind(cord, place)} held at ${volts(low, limit)} ` +
    `at ${amps(load)}; the machine needs ${volts(limit, low)} to start.`,
  strikeNear: ({ low, limit, amps: load, cord, place }: Held) =>
    `At the strike the voltage${behind(cord, place)} fell to ${volts(low, limit)} ` +
    `at ${amps(load)}, too near the ${volts(limit, low)} that the machine needs to start.`,
  strikeFell: ({ low, limit, amps: at, cord }: Held) =>
    `At the strike the voltage${behind(cord)} fell to ${volts(low, limit)} at ${amps(at)}; ` +
    `the machine needs ${volts(limit, low)} to start, and below it the arc may not strike.`,
  strikesFailed: ({ count, low, limit, amps: at }: Omit<Held, 'cord'> & { count: number }) =>
    `${count} times current surged and no arc followed, the voltage down to ` +
    `${volts(low, limit)} at ${amps(at)}: under ${volts(limit, low)} the arc may not strike.`,

  noPlateForLoad: () => 'No rating plate was given: full load is not known.',
  loadNotProven: () =>
    'What full load would do is not proven yet: weld a longer or heavier bead, ' +
    'with nothing else switching on this circuit.',
  noStepLargeEnough: () => 'No step of current was large and quiet enough to estimate the supply.',
  loadHolds: ({ value, limit, amps: load, place }: Foretold) =>
    `At the plate's full ${amps(load)} the voltage${at(place)} would hold at ` +
    `${volts(value, limit)}; it needs ${volts(limit, value)}.`,
  loadNear: ({ value, lo, limit, amps: load, place }: Foretold) =>
    `At the plate's full ${amps(load)} the voltage${at(place)} would be ${volts(value, limit)}, ` +
    `and may be as low as ${volts(lo, limit)}; it needs ${volts(limit, value)}.`,
  loadFalls: ({ value, limit, amps: at }: Foretold) =>
    `At the plate's full ${amps(at)} the voltage would fall to ${volts(value, limit)}; ` +
    `it needs ${volts(limit, value)}.`,
  loadTooThin: (of: ThinLoad) =>
    `Weld a bead of at least ${given(of.leastS)} s at ${amps(of.leastAmps)} or more. So far ` +
    `${seconds(of.seconds)} of load count, and the largest step was ${amps(of.amps)}: not enough ` +
    `to prove the plate's full ${amps(of.full)}.`,
  loopsLacking: ({ measured, needed }: { measured: number; needed: number }) =>
    `The machine needs ${needed} phases and the sensor measured ${measured}: measure all of them.`,
  impedance: ({ at, pairs }: { at: 'machine' | 'sensor'; pairs: ([number, number] | null)[] }) =>
    `Source impedance seen at the ${at}: ` + `${pairs.map(ohms).join(', ')}.`,

  noPlateToJudge: () => 'No rating plate was given to judge by.',
  noArc: () => 'No arc was seen, so nothing is known of the voltage under load.',
};
