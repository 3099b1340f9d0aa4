import { type Static, Type } from 'typebox';
import { Branch, Cord } from './circuit.ts';
import { KeptFeeder } from './feeder.ts';
import {
  FigureOrNull,
  FindingSchema,
  nullable,
  Pair,
  PairOrNull,
  SayingSchema,
  stored,
  VerdictSchema,
  versionsOf,
} from './http.ts';

/**
 * What the HTTP API says of plans and of what would make it right. The types that the rules speak
 * stand in planning.ts and remedy.ts; tests hold the schemas to them.
 */
const Names = Type.Array(Type.String());

export const ChangeSchema = Type.Union([
  Type.Object({ kind: Type.Literal('cords'), cords: Type.Array(Cord) }),
  Type.Object({
    kind: Type.Literal('setting'),
    weldAmps: FigureOrNull,
    inputAmps: Type.Number(),
  }),
  Type.Object({ kind: Type.Literal('duty'), share: Type.Number() }),
  Type.Object({ kind: Type.Literal('circuit'), name: Type.String() }),
  Type.Object({ kind: Type.Literal('branch'), branch: Branch }),
  Type.Object({ kind: Type.Literal('dedicated'), volts: Type.Number() }),
  Type.Object({ kind: Type.Literal('input'), U1: Type.Number() }),
  Type.Object({ kind: Type.Literal('tap'), ratio: Type.Number() }),
  Type.Object({ kind: Type.Literal('transformer'), ratio: Type.Number() }),
]);

export const RemedySchema = Type.Object({
  changes: Type.Array(ChangeSchema),
  who: Type.Union([Type.Literal('shop'), Type.Literal('electrician')]),
  says: Type.String(),
  saying: Type.Optional(SayingSchema),
  volts: Type.Number(),
  volts95: Pair,
  needsVolts: Type.Number(),
});

const SupplyKnown = Type.Union([
  Type.Literal('measured'),
  Type.Literal('described'),
  Type.Literal('unknown'),
]);

/** The machine at its plate's full current behind these cords, on the outlet's supply. */
export const Tried = Type.Object({
  cords: Type.Array(Cord),
  verdict: VerdictSchema,
  /** At the machine; null where the supply is not known. */
  volts: FigureOrNull,
  volts95: PairOrNull,
  findings: Type.Array(FindingSchema),
});
export type Tried = Static<typeof Tried>;

/** What would make it right at one outlet; `tried` is of the cord that was asked about. */
export const Remedies = Type.Object({
  machine: Type.String(),
  circuit: Type.String(),
  /** What it stands on: arcs of this outlet, or the circuit's description alone. */
  supply: SupplyKnown,
  /** The plate's line that applies here. */
  plateVolts: FigureOrNull,
  needsVolts: FigureOrNull,
  openVolts: FigureOrNull,
  now: Tried,
  tried: nullable(Tried),
  remedies: Type.Array(RemedySchema),
  cautions: Type.Array(Type.String()),
});
export type Remedies = Static<typeof Remedies>;

/** Lists as `stiffline plan` takes them from files; read by path, so the schema is open here. */
export const PlanRequest = Type.Object(
  {
    machines: Type.Unknown({ description: 'plates with processes, price and owned' }),
    circuits: Type.Unknown({ description: 'circuits, each with its supply where measured' }),
    needs: Type.Unknown({ description: 'name, process, wireInches, pulse, minAmps …' }),
    feeders: Type.Optional(
      Type.Unknown({ description: 'feeders, each with the names of its circuits' }),
    ),
  },
  { additionalProperties: false },
);

export const FeederLoadSchema = Type.Object({
  feeder: Type.String(),
  verdict: VerdictSchema,
  machines: Names,
  groupAmps: Type.Number(),
  fullAmps: Type.Number(),
  carriesAmps: FigureOrNull,
  atOnce: Type.Object({
    machines: Names,
    amps: Type.Number(),
    volts: FigureOrNull,
    volts95: PairOrNull,
    needsVolts: Type.Number(),
  }),
  findings: Type.Array(FindingSchema),
});

/** A feeder of the shop, by its number; its circuits by theirs. */
export const StoredFeeder = Type.Object({ ...stored, feeder: KeptFeeder });
export type StoredFeeder = Static<typeof StoredFeeder>;
export const FeederVersions = versionsOf({ feeder: KeptFeeder });
export type FeederVersions = Static<typeof FeederVersions>;

/** A sentence, and what another language says it from. */
const told = { says: Type.String(), saying: SayingSchema };
const MachineSetSchema = Type.Object({ machines: Names, price: Type.Number(), buy: Names });

export const PlanSchema = Type.Object({
  schema: Type.Literal('stiffline.plan/1'),
  matrix: Type.Array(
    Type.Object({
      machine: Type.String(),
      circuit: Type.String(),
      verdict: VerdictSchema,
      voltsAtFullLoad: FigureOrNull,
      volts95: PairOrNull,
      plateVolts: Type.Number(),
      supply: SupplyKnown,
      findings: Type.Array(FindingSchema),
    }),
  ),
  covers: Type.Array(
    Type.Object({
      need: Type.String(),
      machines: Names,
      marginal: Names,
      guns: Type.Optional(Type.Array(Type.Object({ machine: Type.String(), gun: Type.String() }))),
    }),
  ),
  smallestSet: MachineSetSchema,
  cheapestSet: MachineSetSchema,
  alternatives: Type.Array(
    Type.Object({
      ...MachineSetSchema.properties,
      why: Type.Union([Type.Literal('equal'), Type.Literal('as-small'), Type.Literal('cheapest')]),
      ...told,
    }),
  ),
  steps: Type.Array(
    Type.Object({
      machine: Type.String(),
      price: Type.Number(),
      owned: Type.Boolean(),
      adds: Names,
    }),
  ),
  further: Type.Array(Type.Object({ machine: Type.String(), price: Type.Number(), adds: Names })),
  duplicates: Type.Array(Type.Object({ machine: Type.String(), by: Names, ...told })),
  uncovered: Type.Array(
    Type.Object({
      need: Type.String(),
      ...told,
      why: Type.Array(Type.Object({ machine: Type.String(), ...told })),
      nearest: nullable(Type.Object({ machine: Type.String(), circuit: Type.String() })),
      remedies: Type.Array(RemedySchema),
    }),
  ),
  feeders: Type.Array(FeederLoadSchema),
  cautions: Type.Array(Type.String()),
});
