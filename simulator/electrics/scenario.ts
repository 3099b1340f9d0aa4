import {
  choice,
  flag,
  kinds,
  list,
  nullable,
  number,
  type Of,
  object,
  optional,
  or,
  range,
  slug,
  text,
  where,
  whole,
} from './schema.ts';
import { type Awg, isGauge } from './wire.ts';

const seconds = number(0, 86_400);
const length = { feet: optional(number(0, 10_000)), metres: optional(number(0, 3_000)) };
const gauge = {
  awg: optional(where<Awg>('a gauge from 18 to 1, or "1/0" to "4/0"', isGauge)),
  mm2: optional(number(0.5, 500)),
};
const metal = optional(choice('copper', 'aluminium'));
const branch = object({ ...gauge, metal, ...length });
const cord = object({ ...gauge, ...length });

/** The plate contract's keys, as the shop would type them in. */
const plate = object({
  name: text(120),
  phases: choice(1, 3),
  hertz: optional(list(choice(50, 60), 1, 2)),
  supply: list(
    object({
      U1: number(1, 1000),
      I1max: number(0.1, 1000),
      I1eff: optional(number(0.1, 1000)),
    }),
    1,
    8,
  ),
  ratings: optional(
    list(object({ X: number(0.01, 1), I2: number(1, 2000), U2: number(1, 150) }), 0, 16),
  ),
  pulse: optional(flag),
  wireInches: optional(list(number(0.001, 0.25), 0, 12)),
});

/** The circuit contract's keys: what the shop believes of its wiring. */
const circuit = object({
  name: text(120),
  volts: number(1, 1000),
  phases: or(1, choice(1, 3)),
  hertz: or(60, choice(50, 60)),
  breakerAmps: optional(number(1, 1000)),
  receptacleAmps: optional(number(1, 1000)),
  dedicated: optional(flag),
  branch: optional(branch),
  cords: or([], list(cord, 0, 8)),
});

/** Ohms are a loop's on two wires, a leg's on split phase, a phase's on three. */
const source = {
  /** No-load volts as the circuit counts them; the circuit's nominal where absent. */
  volts: optional(number(1, 1000)),
  ohmsR: number(0, 10),
  ohmsX: number(0, 10),
  harmonics: or(
    [],
    list(
      object({ order: whole(2, 25), percent: number(0, 30), degrees: or(0, number(-180, 180)) }),
      0,
      12,
    ),
  ),
};
const supply = kinds({
  utility: {
    ...source,
    transformer: optional(
      object({
        kva: number(1, 5000),
        percentZ: number(0.1, 15),
        reactanceOverResistance: or(1.5, number(0, 20)),
      }),
    ),
    service: optional(branch),
    /** Deviation of the slow wander of voltage, and of frequency. */
    wanderPercent: or(0.25, number(0, 5)),
    wanderHertz: or(0.015, number(0, 1)),
  },
  generator: {
    ...source,
    watts: number(500, 500_000),
    /** Fall of frequency from no load to full, percent; stored energy over rated power, s. */
    droopPercent: or(5, number(0, 15)),
    inertiaS: or(0.6, number(0.1, 10)),
    /** Slow voltage fall at rated current before the regulator answers, percent. */
    sagPercent: or(12, number(0, 60)),
    /** What the regulator can add, percent, and its lag, s. */
    ceilingPercent: or(8, number(0, 60)),
    regulatorS: or(0.4, number(0.02, 5)),
  },
});

const placed = {
  name: slug,
  at: choice('panel', 'outlet'),
  /** Lines it hangs between: one, and it is line to neutral; none, all of them alike. */
  lines: or([], list(whole(1, 3), 0, 2)),
  watts: number(1, 100_000),
  firstOnS: or(0, seconds),
  /** On and off by turns; on for good where absent. */
  onS: optional(range(0.1, 86_400)),
  offS: optional(range(0.1, 86_400)),
};
const neighbour = kinds({
  heater: placed,
  motor: {
    ...placed,
    powerFactor: or(0.8, number(0.2, 1)),
    startMultiple: or(6, number(1, 12)),
    startS: or(0.6, number(0.05, 20)),
  },
});

const output = {
  /** Volts the machine is wound or set for. */
  volts: number(50, 1000),
  efficiency: or(0.84, number(0.3, 1)),
  idleWatts: or(30, number(0, 2000)),
  /** Greatest welding current, A. */
  maxAmps: number(20, 1000),
  switchOnS: or(0.3, seconds),
  /** Lines it hangs between, as a neighbour's. */
  lines: or([], list(whole(1, 3), 0, 2)),
};
const link = {
  farads: number(1e-5, 0.1),
  /** Filter, bridge and capacitor in series, ohm; filter choke, H. */
  ohms: or(0.05, number(0.001, 5)),
  henries: or(20e-6, number(0, 0.05)),
  prechargeOhms: or(12, number(0, 200)),
  /** Link volts over √2·rated (√2·√3·phase for three) where output folds back, and drops out. */
  foldFraction: or(0.74, number(0.2, 1)),
  dropFraction: or(0.6, number(0.1, 1)),
  restartS: or(0.8, number(0.05, 30)),
};
const machine = kinds({
  'capacitor-inverter': { ...output, ...link },
  'three-phase-rectifier': { ...output, ...link },
  'pfc-inverter': {
    ...output,
    farads: or(0.002, number(1e-5, 0.1)),
    busVolts: or(390, number(100, 1200)),
    /** Greatest supply current, A r.m.s. */
    supplyAmps: number(1, 500),
    dropFraction: or(0.65, number(0.1, 1)),
    restartS: or(0.8, number(0.05, 30)),
  },
  'transformer-rectifier': {
    ...output,
    /** Output volts, r.m.s., at the tap with rated supply and no load. */
    tapVolts: number(5, 100),
    ohms: or(0.4, number(0.001, 20)),
    leakHenries: or(1.2e-3, number(0, 0.1)),
    magnetHenries: or(0.35, number(0.001, 10)),
    coreOhms: or(400, number(5, 1e5)),
    /** Flux at which the core saturates, of the rated peak. */
    kneeFraction: or(1.2, number(0.5, 3)),
    /** Welding choke, on the output's side. */
    chokeHenries: or(0.4e-3, number(1e-5, 0.05)),
  },
});

const work = object({
  process: choice('short-circuit', 'pulse', 'braze'),
  /** Welding current by time; the first must start at 0. */
  settings: list(object({ fromS: seconds, amps: number(10, 1000) }), 1, 16),
  /** Shorts or pulses a second. */
  perS: or([70, 130], range(20, 250)),
  firstArcS: or(2, seconds),
  first: or('any', choice('any', 'bead', 'tacks')),
  beadShare: or(0.6, number(0, 1)),
  beadS: or([4, 10], range(0.3, 600)),
  tacks: or([3, 6], range(1, 40)),
  tackS: or([0.4, 0.9], range(0.1, 5)),
  tackGapS: or([0.8, 1.6], range(0.2, 30)),
  pauseS: or([3, 8], range(0.5, 3600)),
});

const event = kinds({
  'neutral-opens': { atS: seconds, ohms: or(400, number(0.1, 1e6)) },
  'phase-lost': { atS: seconds, phase: whole(1, 3) },
});

const sensor = object({
  name: slug,
  at: choice('outlet', 'machine'),
  rateHz: or(10_240, number(1000, 20_480)),
  bits: or(16, choice(12, 16, 24)),
  fullScaleVolts: optional(number(10, 5000)),
  fullScaleAmps: or(200, number(1, 5000)),
  /** Bounds within which the seed draws this sensor's errors. */
  voltsPercent: or(0.05, number(0, 10)),
  ampsPercent: or(0.2, number(0, 10)),
  leadDegrees: or(0.2, number(0, 5)),
  /** A Rogowski coil's integrator wanders at low frequency; a transformer's core does not. */
  probe: or('transformer', choice('transformer', 'rogowski')),
  /** Standing offset of each channel, of full scale. */
  offsetPpm: or(300, number(0, 50_000)),
  noisePpm: or(60, number(0, 10_000)),
  clockPpm: or(20, number(0, 1000)),
});

const bay = object({
  name: slug,
  plate: nullable(plate),
  circuit,
  /** Two wires; split phase, seen leg by leg; or three phase, each line to neutral. */
  wires: choice('two', 'split', 'three-phase'),
  supply,
  /** What is in the wall and on the floor, where that is not what the shop believes. */
  really: or({}, object({ branch: optional(branch), cords: optional(list(cord, 0, 8)) })),
  /** A worn contact at the receptacle, ohm when cold; wanders as it heats. */
  looseOhms: or(0, number(0, 5)),
  ambientC: or(25, number(-40, 70)),
  neighbours: or([], list(neighbour, 0, 8)),
  breaker: or(
    { magneticMultiple: 10, resetS: 30 },
    object({ magneticMultiple: or(10, number(2, 40)), resetS: or(30, number(1, 86_400)) }),
  ),
  machine,
  work,
  events: or([], list(event, 0, 16)),
  sensors: list(sensor, 1, 4),
  /** Band of supply power of the coupons that passed at this place, W. */
  coupon: optional(object({ watts: range(1, 100_000) })),
  /** What is wrong from the start, for the truth file. */
  faults: or([], list(object({ kind: slug, says: text(200) }), 0, 8)),
});

/** Reads a scenario's JSON; what each value by itself cannot tell is asked in parse-scenario.ts. */
export const scenario = object({
  name: slug,
  /** One line for the list. */
  says: text(160),
  bays: list(bay, 1, 64),
});

/** A scenario is data: bays with their wiring, machine, welder and sensors. */
export type Scenario = Of<typeof scenario>;
export type Bay = Of<typeof bay>;
export type Sensor = Of<typeof sensor>;
export type Supply = Bay['supply'];
export type Utility = Extract<Supply, { kind: 'utility' }>;
export type Generator = Extract<Supply, { kind: 'generator' }>;
export type Neighbour = Of<typeof neighbour>;
export type Work = Of<typeof work>;
