import { type Static, Type } from 'typebox';
import type { Circuit } from './circuit.ts';
import type { FeederLoad } from './feeder.ts';
import type { Finding, Saying, Verdict } from './judgement.ts';
import type { Plate } from './plate.ts';
import { Process } from './processes.ts';
import type { Remedy } from './remedy.ts';

const strict = { additionalProperties: false } as const;
/** Ohms of a supply that can feed a welder at all. */
const ohms = (minimum: number) => Type.Number({ minimum, maximum: 100 });
const interval = Type.Tuple([ohms(-100), ohms(-100)]);

/**
 * What a list of machines says beside each rating plate. The price is what buying it would cost,
 * in any one currency; a machine that is owned costs nothing more, so it may be left out there.
 */
export const Offer = Type.Object(
  {
    price: Type.Optional(Type.Number({ minimum: 0, maximum: 1e7 })),
    /** May be left out where every gun of the plate names its own. */
    processes: Type.Optional(Type.Array(Process, { minItems: 1, maxItems: 3 })),
    owned: Type.Optional(Type.Boolean()),
  },
  strict,
);
export type Offer = Static<typeof Offer>;
export type Machine = Plate & Offer;

/**
 * A supply as a judgement of this circuit told it (`supply` of `judge --json`, whole): of one pair,
 * at the outlet, or with `sensorAt: "machine"` behind the cords.
 */
export const MeasuredSupply = Type.Object(
  {
    openVolts: Type.Number({ exclusiveMinimum: 0, maximum: 1000 }),
    ohmsR: ohms(0),
    ohmsX: ohms(-100),
    ohmsR95: Type.Optional(interval),
    ohmsX95: Type.Optional(interval),
    steps: Type.Optional(Type.Integer({ minimum: 0 })),
  },
  strict,
);
export type MeasuredSupply = Static<typeof MeasuredSupply>;
export type PlannedCircuit = Circuit & { supply?: MeasuredSupply };

/**
 * What a vehicle maker's procedure asks of a machine. Name and process are needed; what a procedure
 * leaves open (wire, pulse, output, class of machine) is left out, and then nothing is asked of it
 * but what the trade asks of the process.
 */
export const Need = Type.Object(
  {
    name: Type.String({ minLength: 1, maxLength: 120 }),
    process: Process,
    wireInches: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 0.25 })),
    pulse: Type.Optional(Type.Boolean()),
    minAmps: Type.Optional(Type.Number({ minimum: 0, maximum: 2000 })),
    /** Class of machine: the least rated supply voltage. */
    minSupplyVolts: Type.Optional(Type.Number({ minimum: 0, maximum: 1000 })),
  },
  strict,
);
export type Need = Static<typeof Need>;

/** One machine on one circuit, at its plate's full current. */
export interface PlanRow {
  machine: string;
  circuit: string;
  verdict: Verdict;
  /** At the machine, behind the circuit's cords; null where the supply is not known. */
  voltsAtFullLoad: number | null;
  /** 95 % interval of it. */
  volts95: [number, number] | null;
  /** The plate's line that applies here, U1. */
  plateVolts: number;
  supply: 'measured' | 'described' | 'unknown';
  findings: Finding[];
}

export interface NeedCover {
  need: string;
  /** Machines whose plate meets it and that some circuit feeds in full. */
  machines: string[];
  /** The same, but the best circuit is `marginal`: measure there before counting on it. */
  marginal: string[];
  /** Of machines with several guns, the one that does it. */
  guns?: { machine: string; gun: string }[];
}

export interface MachineSet {
  machines: string[];
  /** Of what is to be bought; what is owned costs nothing more. */
  price: number;
  /** Those of `machines` that are not owned. */
  buy: string[];
}

export interface Alternative extends MachineSet {
  why: 'equal' | 'as-small' | 'cheapest';
  says: string;
  saying: Saying;
}

/** A machine of the smallest set: what is owned first, then the one that adds most. */
export interface Step {
  machine: string;
  price: number;
  owned: boolean;
  /** Needs that it covers and nothing before it did. */
  adds: string[];
}

/** What a machine that is not owned would add to what is. */
export interface Further {
  machine: string;
  price: number;
  adds: string[];
}

export interface Duplicate {
  machine: string;
  by: string[];
  says: string;
  saying: Saying;
}

export interface Uncovered {
  need: string;
  says: string;
  saying: Saying;
  /** What each machine lacks for it. */
  why: { machine: string; says: string; saying: Saying }[];
  /** The machine and circuit that come nearest, where its plate meets the need. */
  nearest: { machine: string; circuit: string } | null;
  /** What would make that one right: the shop's own means first, then an electrician's. */
  remedies: Remedy[];
}

export interface Plan {
  schema: 'stiffline.plan/1';
  matrix: PlanRow[];
  covers: NeedCover[];
  smallestSet: MachineSet;
  cheapestSet: MachineSet;
  alternatives: Alternative[];
  steps: Step[];
  further: Further[];
  /** What is owned twice: all that a machine does here, others that are owned do too. */
  duplicates: Duplicate[];
  uncovered: Uncovered[];
  /** Each feeder against what is owned and the smallest set; without either, against all. */
  feeders: FeederLoad[];
  cautions: string[];
}
