import { figuresWith } from '../figures.ts';

const { amps, fixed, given, percent, seconds, volts } = figuresWith('.');

export interface Pair {
  pair: number;
}
const again = 'then record again.';

/** What the sensor is doubted for, and what to do about it. */
export const sensor = {
  sensorPassed: () =>
    'The readings look right: no cut-off peaks, no repeated values, and power flows to the ' +
    'machine.',
  sensorInDoubt: () => 'The sensor is in doubt, so this proves nothing.',
  clippedVolts: ({ pair }: Pair) =>
    `The voltage input of pair ${pair} is at its limit: the peaks are cut off, and the real ` +
    `voltage drop is larger than it looks. Set a larger voltage range, ${again}`,
  clippedAmps: ({ pair }: Pair) =>
    `The current input of pair ${pair} is at its limit: the peaks are cut off, and the real ` +
    `current is higher than it looks. Set a larger current range, ${again}`,
  heldVolts: ({ pair, seconds: long }: Pair & { seconds: number }) =>
    `The voltage of pair ${pair} stood still for ${seconds(long)}: values were repeated, not ` +
    `measured. Check the sensor and its data link, ${again}`,
  heldAmps: ({ pair, seconds: long }: Pair & { seconds: number }) =>
    `The current of pair ${pair} stood still for ${seconds(long)}: values were repeated, not ` +
    `measured. Check the sensor and its data link, ${again}`,
  offsetVolts: ({ pair, part }: Pair & { part: number }) =>
    `The voltage of pair ${pair} is off center by ${percent(part, 0)} of its peak; no outlet ` +
    `does that. Have the voltage input checked, ${again}`,
  channelsAlike: ({ one, other }: { one: string; other: string }) =>
    `Channels ${one} and ${other} hold the same samples. Check which wire each input is on, ` +
    `${again}`,
  ampsWithoutVolts: ({ pair }: Pair) =>
    `Current flowed on pair ${pair} while its voltage input read nothing. Check the voltage ` +
    `leads, ${again}`,
  sensorReversed: ({ pair }: Pair) =>
    `Power flows backwards on pair ${pair}: its current sensor is on the wrong way round, or ` +
    `on another wire. Have a licensed electrician turn it, ${again} This recording is kept as ` +
    'it is.',
  legsMixed: ({ pair, degrees }: Pair & { degrees: number }) =>
    `The current of pair ${pair} does not belong to its voltage: they are ` +
    `${fixed(degrees, 0)}° apart. Have a licensed electrician put each current sensor on the ` +
    `wire whose voltage it goes with, ${again}`,
  overPlate: ({ amps: seen, plate }: { amps: number; plate: number }) =>
    `${amps(seen)} is more than a machine of ${amps(plate)} can draw: the current sensor's ` +
    `range is set wrong, or another machine is connected. Check both, ${again}`,
  overBreaker: ({ amps: seen, breaker }: { amps: number; breaker: number }) =>
    `${amps(seen)} would trip a ${given(breaker)} A breaker at once: the current sensor's range ` +
    `is set wrong, or this is another circuit. Check both, ${again}`,
  noSuchClass: ({ volts: seen }: { volts: number }) =>
    `The sensor reads ${volts(seen)} with no load; no outlet has that. Check the voltage ` +
    `range, ${again}`,
  halvesDiffer: ({ pair, part }: Pair & { part: number }) =>
    `The two half waves of pair ${pair}'s current differ by ${percent(part, 0)}: the current ` +
    "sensor may be overloaded, or the machine's rectifier may be failing.",
  offsetAmps: ({ pair, part }: Pair & { part: number }) =>
    `The current of pair ${pair} is off center by ${percent(part, 0)} of its peak: zero the ` +
    'current sensor.',
};
