import { type Static, Type } from 'typebox';
import { Circuit, Cord } from './circuit.ts';
import {
  ArcSchema,
  FigureOrNull,
  FindingSchema,
  Id,
  nullable,
  Pair,
  SayingSchema,
  Time,
  VerdictSchema,
} from './http.ts';
import { RemedySchema } from './http-plan.ts';
import { Plate } from './plate.ts';

/**
 * What the HTTP API and the live feed say of outlet checks. The types that the rules speak stand
 * in outlet-check.ts; tests hold the schemas to them.
 */
const oneOf = <Words extends string[]>(...words: Words) => Type.Enum<Words>([...words]);

const Step = oneOf('no-load', 'idle', 'first-bead', 'second-bead', 'judged', 'stopped');
const Choice = oneOf(
  ...(['go-on', 'again', 'back'] as const),
  ...(['with-cord', 'full-setting', 'judge', 'stop'] as const),
);
const When = oneOf('first-bead', 'second-bead');
const WantId = oneOf(
  ...(['alive', 'nothing-draws', 'steady', 'machine-on'] as const),
  ...(['long', 'heavy', 'whole', 'estimated', 'quiet'] as const),
);
const Words = Type.String({ minLength: 1, maxLength: 80 });

/** Name of the recording that a check is made from; absent or null: live. */
const Recording = Type.Optional(nullable(Type.String()));

/** Begins a check: what stands at the outlet now. Nothing that the shop has stored is changed. */
export const NewCheck = Type.Object(
  {
    sensor: Type.String({ minLength: 1, maxLength: 65 }),
    /** Who is signed in stands in its place; needed where nobody is. */
    person: Type.Optional(Words),
    /** Where the vehicle stands. */
    place: Words,
    circuit: Id,
    plate: Id,
    /** Between outlet and machine; empty: none. */
    cords: Type.Array(Cord, { maxItems: 8 }),
    cordFrom: When,
  },
  { additionalProperties: false },
);
export type NewCheck = Static<typeof NewCheck>;

export const ChosenStep = Type.Object({ choice: Choice }, { additionalProperties: false });

export const CheckAboutSchema = Type.Object({
  date: Time,
  person: Type.String(),
  place: Type.String(),
  cordFrom: When,
  recording: Recording,
  of: Type.Optional(Type.Object({ circuit: Id, plate: Id })),
});

export const CheckTellingSchema = Type.Object({
  step: Step,
  doNow: Type.String(),
  wants: Type.Array(
    Type.Object({
      id: WantId,
      enough: Type.Boolean(),
      says: Type.String(),
      saying: SayingSchema,
      doNow: nullable(Type.String()),
      needed: Type.Boolean(),
    }),
  ),
  enough: Type.Boolean(),
  choices: Type.Array(Choice),
  verdict: nullable(VerdictSchema),
  warnings: Type.Array(Type.String()),
  warningSayings: Type.Array(SayingSchema),
  note: nullable(Type.String()),
  noteSaying: nullable(SayingSchema),
});

export const CheckResultSchema = Type.Object({
  schema: Type.Literal('stiffline.outlet-check/1'),
  date: Time,
  person: Type.String(),
  place: Type.String(),
  recording: Recording,
  machine: nullable(Type.String()),
  circuit: nullable(Type.String()),
  cords: Type.Array(Cord),
  sensorAt: oneOf('outlet', 'machine', 'unstated'),
  noLoadVolts: FigureOrNull,
  idleVolts: FigureOrNull,
  beads: Type.Array(
    Type.Object({
      startS: Type.Number(),
      endS: Type.Number(),
      amps: Type.Number(),
      leastVolts: Type.Number(),
      shareOfFull: FigureOrNull,
      verdict: VerdictSchema,
      withCord: Type.Optional(nullable(Type.Boolean())),
    }),
  ),
  second: nullable(oneOf('with-cord', 'full-setting')),
  supply: nullable(
    Type.Object({ openVolts: Type.Number(), ohmsR: Type.Number(), ohmsX: Type.Number() }),
  ),
  atFullLoad: nullable(Type.Object({ volts: Type.Number(), volts95: Pair })),
  verdict: VerdictSchema,
  findings: Type.Array(FindingSchema),
  remedies: Type.Array(RemedySchema),
  cautions: Type.Array(Type.String()),
  toProve: Type.Optional(Type.Array(Type.String())),
});

export const StalenessSchema = Type.Object({
  stale: Type.Boolean(),
  why: Type.Array(Type.String()),
  sayings: Type.Array(SayingSchema),
});

/** What of a judged check the shop has stored otherwise: a person may save it. */
export const UnsavedCheck = Type.Object({
  circuit: Id,
  plate: Id,
  /** The circuit is stored with other cords. */
  cords: Type.Boolean(),
  /** Another circuit or machine is assigned to the sensor. */
  assignment: Type.Boolean(),
});
export type UnsavedCheck = Static<typeof UnsavedCheck>;

/** A check as it stands: all that a page needs to lead through it. */
export const Check = Type.Object({
  id: Id,
  /** Null of a check from a recording. */
  sensor: nullable(Type.String()),
  about: CheckAboutSchema,
  plate: nullable(Plate),
  circuit: nullable(Circuit),
  /** Between the machine's terminals with nothing welding, as far as it is known. */
  openVolts: FigureOrNull,
  /** The newest bead, whole or so far, with its findings. */
  bead: nullable(ArcSchema),
  telling: CheckTellingSchema,
  result: nullable(CheckResultSchema),
  /** Of a result, against what hangs on the sensor now. */
  staleness: nullable(StalenessSchema),
  /** Of a result; null where all of it is stored. */
  unsaved: nullable(UnsavedCheck),
});
export type Check = Static<typeof Check>;

/** A judged check in the list. */
export const KeptCheck = Type.Object({
  id: Id,
  sensor: nullable(Type.String()),
  recording: Recording,
  date: Time,
  person: Type.String(),
  place: Type.String(),
  machine: nullable(Type.String()),
  circuit: nullable(Type.String()),
  cords: Type.Array(Cord),
  verdict: VerdictSchema,
  staleness: StalenessSchema,
});
export type KeptCheck = Static<typeof KeptCheck>;
