import { figuresWith, type Gauge } from '../figures.ts';
import { services } from './services.ts';

type Arrangement = keyof typeof services;

const { amps, fixed, gauge, percent, seconds, volts } = figuresWith('.');

export interface Step {
  volts: number;
  atS: number;
}
const moved = ({ volts: by, atS }: Step) =>
  by < 0
    ? `The voltage fell by ${volts(-by)} at ${seconds(atS)} without this machine drawing more: `
    : `The voltage rose by ${volts(by)} at ${seconds(atS)} without this machine drawing less: `;

export interface OtherSteps {
  count: number;
  volts: number;
  /** Null where this circuit could not carry them, or nobody knows. */
  amps: number | null;
}

export interface Sag {
  volts: number;
  nominal: number;
  seconds: number;
  category: string | null;
  count: number;
  arc: boolean;
}

/** What the rules about the supply around an arc say: sags, phases, waveform, duty, others. */
export const surroundings = {
  noNominal: () => 'No nominal voltage fits what was measured.',
  noSag: ({ nominal }: { nominal: number }) => `The voltage never fell under 90 % of ${nominal} V.`,
  sag: ({ volts: low, nominal, seconds: long, category, count, arc }: Sag) =>
    `A sag to ${volts(low)}, ${percent(low / nominal, 0)} of nominal, for ${seconds(long)}` +
    (category === null ? '' : ` (${category})`) +
    (count > 1 ? `, the worst of ${count}` : '') +
    `${arc ? ', while welding' : ', with no arc burning'}.`,
  swell: ({ volts: high, nominal, seconds: long, category, count, arc }: Sag) =>
    `A swell to ${volts(high)}, ${percent(high / nominal, 0)} of nominal, for ${seconds(long)}` +
    (category === null ? '' : ` (${category})`) +
    (count > 1 ? `, the worst of ${count}` : '') +
    `${arc ? ', while welding' : ', with no arc burning'}.`,

  threePhasesNeeded: () => 'The machine needs three phases; this circuit has one.',
  onePair: () => 'One pair was measured: legs cannot be compared.',
  phaseMissing: ({ phase, low, high }: { phase: number; low: number; high: number }) =>
    `Phase ${phase} is missing: ${volts(low)} where others have ${volts(high)}. Stop.`,
  lookForFuse: () => 'Look for a blown fuse, an open breaker pole or a loose terminal.',
  onePhaseSeen: () =>
    'The machine needs three phases; one was measured, and nothing is known of the others.',
  twoOfThree: () =>
    'The machine needs three phases; two were measured, and nothing is known of the third.',
  splitNoThree: () =>
    'The machine needs three phases; these are the two legs of a split phase. Do not plug it in.',
  sameLeg: ({ between }: { between: number }) =>
    `Both pairs measure the same leg: ${volts(between)} lies between them. ` +
    'Nothing is known of the other leg.',
  phaseTwice: () => 'One phase is measured twice: nothing is known of the third.',
  serviceUnknown: () =>
    'Magnitudes and angles of the voltages fit no way in which a shop is fed: ' +
    'a sensor wire may be swapped or reversed.',
  lineOrNeutral: () =>
    'Whether these voltages lie between lines or to neutral is not told by the plate and the ' +
    "current's angle: the supply may be √3 too high.",
  checkSensorWires: () => "Check on which conductors the sensor's voltage leads sit.",
  serviceTwoLegs: ({ arrangement, between }: { arrangement: Arrangement; between: number }) =>
    `${services[arrangement]}: ${volts(between)} between the two.`,
  otherLineDead: ({ phase, low }: { phase: number; low: number }) =>
    `Line ${phase} is dead (${volts(low)}); the machine does not hang on it.`,
  wildLeg: ({ high }: { high: number }) =>
    `${volts(high)} where 120 V is meant: this may be the high leg of a delta. Do not plug in.`,
  findHighLeg: () => 'The high leg must not feed a 120 V outlet: find and correct the wiring.',
  neutralNotTested: () =>
    'A weld across both legs draws nothing through the neutral: the neutral was not tested.',
  legsTogether: ({ low, high, between }: { low: number; high: number; between: number }) =>
    `${services['split-phase']}, ${volts(between)} between them, keep together: ` +
    `${volts(low)} and ${volts(high)} at the worst.`,
  legsApart: ({ low, high }: { low: number; high: number }) =>
    `One leg went up to ${volts(high)} while the other fell to ${volts(low)}: the neutral may be ` +
    'failing. Stop and call an electrician.',
  legsOpposed: ({ volts: by, steps }: { volts: number; steps: number }) =>
    `${steps} times one leg rose as the other fell, by up to ${volts(by)}: the neutral has more ` +
    'resistance than it should. Call an electrician.',
  checkNeutral: () => 'Check every neutral connection from service to receptacle.',
  phasesDiffer: (of: { arrangement: Arrangement; part: number; usual: number }) =>
    `${services[of.arrangement]}: from line to line the voltages differ by ` +
    `${percent(of.part)} at most; ${percent(of.usual, 0)} is usual.`,

  waveformTooShort: () => 'The record is too short to tell its waveform.',
  wrongFrequency: ({ supply, plate }: { supply: number; plate: number[] }) =>
    `The supply has ${supply} Hz; the plate names ${plate.join(' and ')} Hz only.`,
  frequency: ({ low, high, strains }: { low: number; high: number; strains: boolean }) =>
    `The frequency lay between ${fixed(low, 2)} and ${fixed(high, 2)} Hz` +
    (strains ? ': this looks like a generator that strains.' : '.'),
  distortion: ({ percent: part, over }: { percent: number; over: boolean }) =>
    `The voltage's distortion is ${fixed(part, 1)} %` +
    (over ? ': a generator or a transformer that is overloaded.' : '.'),
  crest: ({ crest, flat }: { crest: number; flat: boolean }) =>
    `The voltage's crest is ${fixed(crest, 2)} times its r.m.s. value` +
    (flat ? ', a sine has 1.41: its top is flat, the supply is soft.' : '.'),

  dutyTooShort: () => 'Duty is of ten minutes; this record is shorter.',
  duty: ({ part, plate, over }: { part: number; plate: number; over: boolean }) =>
    `The arc burned ${percent(part, 0)} of the busiest ten minutes; ` +
    `the plate allows ${percent(plate, 0)}${over ? ' at most: let the machine cool.' : '.'}`,
  effective: ({ amps: seen, plate }: { amps: number; plate: number }) =>
    `Over the busiest ten minutes the current was ${amps(seen)} effective; ` +
    `the plate names ${amps(plate)}.`,
  branchCarried: ({ amps: seen, wire, carries }: { amps: number; wire: Gauge; carries: number }) =>
    `The branch carried ${amps(seen)} effective over ten minutes; ` +
    `its ${gauge(wire)} may carry ${amps(carries)}.`,
  notDedicated: () => 'Nobody said that this circuit is dedicated.',
  othersNotTold: () => 'Whether anything else runs on this circuit could not be told.',
  noOther: () => 'Nothing else was seen to switch.',
  otherSmall: (step: Step) =>
    `${moved(step)}no more than loads in a building and its utility do. One sensor cannot tell ` +
    'where from.',
  otherMomentary: ({ volts: by, atS }: Step) =>
    `The voltage ${by < 0 ? 'dipped' : 'jumped'} by ${volts(Math.abs(by))} at ${seconds(atS)} ` +
    'and came back within seconds: not a load that stays on.',
  otherAbove: ({ breaker, ...step }: Step & { breaker: number }) =>
    `${moved(step)}more than a load behind this ${amps(breaker)} breaker could keep up. ` +
    'It came from ahead of this circuit: the building or the utility.',
  otherPerhaps: (step: Step) =>
    `${moved(step)}something else may run on this circuit, or a large load switched elsewhere in ` +
    'the building. One sensor cannot tell.',
  otherStarts: ({ surge, ...step }: Step & { surge: number }) =>
    `${moved({ ...step, volts: surge })}something large started, and ` +
    `${volts(Math.abs(step.volts))} of it stayed. It may be on this circuit. ` +
    'One sensor cannot tell.',
  otherSteps: ({ count, volts: by, amps: here }: OtherSteps) =>
    `${count === 1 ? 'One such step' : `${count} such steps; the largest`}, ${volts(by)}` +
    (here === null ? '.' : `: on this circuit a load of ${amps(here)} would do that.`),
  otherToTell: () =>
    'To find out: switch off whatever else might be on this circuit and weld again, put a second ' +
    'sensor on another circuit, or have an electrician trace this one.',

  noCoupon: () => 'No passed coupon is known to compare with.',
  couponItself: () => 'This is a coupon: its own test is to come.',
  couponLacking: () => 'No passed coupon for this set-up: weld and test one before the vehicle.',
  couponTooShort: () => "The passed coupon's arcs were too short to compare with.",
  couponHoldsNoLonger: () => 'The passed coupon holds no longer.',
  couponAnew: () => 'Test a new one before the vehicle.',
  arcTooShort: () => 'The arc was too short to compare with a coupon.',
  heatInside: ({ watts, low, high }: { watts: number; low: number; high: number }) =>
    `The arc took ${fixed(watts, 0)} W, inside the coupon's ${fixed(low, 0)} to ` +
    `${fixed(high, 0)} W.`,
  heatOutside: (of: { watts: number; low: number; high: number; limit: number; cold: boolean }) =>
    `The arc took ${fixed(of.watts, 0)} W, ${percent(Math.abs(of.watts / of.limit - 1), 0)} ` +
    `${of.watts < of.limit ? 'under' : 'over'} the nearer end of the coupon's ` +
    `${fixed(of.low, 0)} to ${fixed(of.high, 0)} W: ` +
    `it may be ${of.cold ? 'colder' : 'hotter'}. Test a coupon at this setting.`,
};
