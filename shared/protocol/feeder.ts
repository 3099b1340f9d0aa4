import { type Static, Type } from 'typebox';
import { Branch } from './circuit.ts';
import type { Finding, Verdict } from './judgement.ts';

const strict = { additionalProperties: false } as const;
const CircuitName = Type.String({ minLength: 1, maxLength: 120 });

/** As a branch, and in the sizes over 4/0 that only feeders have, in kcmil. Length is one way. */
const FeederConductor = Type.Object(
  { ...Branch.properties, kcmil: Type.Optional(Type.Integer({ minimum: 250, maximum: 1000 })) },
  strict,
);
export type FeederConductor = Static<typeof FeederConductor>;

const own = {
  name: Type.String({ minLength: 1, maxLength: 120 }),
  volts: Type.Number({ exclusiveMinimum: 0, maximum: 1000, description: 'nominal, V r.m.s.' }),
  phases: Type.Optional(Type.Union([Type.Literal(1), Type.Literal(3)])),
  breakerAmps: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 4000 })),
  conductor: Type.Optional(FeederConductor),
  /** How many of its machines burn at once; left out: half of them, and two at least. */
  atOnce: Type.Optional(Type.Integer({ minimum: 1, maximum: 60 })),
};

/** What carries several circuits from panel to panel; they are named as in their own list. */
export const Feeder = Type.Object(
  { ...own, circuits: Type.Array(CircuitName, { minItems: 1, maxItems: 60 }) },
  strict,
);
export type Feeder = Static<typeof Feeder>;

/** The same as a shop keeps it: its circuits by their stored numbers, whatever they are called. */
export const KeptFeeder = Type.Object(
  {
    ...own,
    circuits: Type.Array(Type.Integer({ minimum: 1 }), { minItems: 1, maxItems: 60 }),
  },
  strict,
);
export type KeptFeeder = Static<typeof KeptFeeder>;

/** A feeder against the machines that may hang on it, one a circuit: those that ask most. */
export interface FeederLoad {
  feeder: string;
  verdict: Verdict;
  machines: string[];
  /** Effective amperes of the group: 100, 100, 85, 70 and then 60 % of each, largest first. */
  groupAmps: number;
  /** Full primary currents, added. */
  fullAmps: number;
  /** Of its conductor; null where that is not described. */
  carriesAmps: number | null;
  /** Those of the heaviest that are taken to burn at once, and the voltage at the far end then. */
  atOnce: {
    machines: string[];
    amps: number;
    /** Null where the length is not known. */
    volts: number | null;
    volts95: [number, number] | null;
    /** What the machine that asks most of the voltage needs there, V. */
    needsVolts: number;
  };
  findings: Finding[];
}
