import { type Static, Type } from 'typebox';
import { Process } from './processes.ts';

const positive = (maximum: number, description: string) =>
  Type.Number({ exclusiveMinimum: 0, maximum, description });
const strict = { additionalProperties: false } as const;

/** A line of the plate's supply block: rated supply voltage with its currents (IEC 60974-1). */
export const PlateSupply = Type.Object(
  {
    U1: positive(1000, 'rated supply voltage, V r.m.s.'),
    I1max: positive(1000, 'rated maximum supply current, A r.m.s.'),
    I1eff: Type.Optional(positive(1000, 'maximum effective supply current, A r.m.s.')),
  },
  strict,
);

/** A point of the plate's output table: duty X, welding current I2, load voltage U2. */
export const PlateRating = Type.Object(
  {
    X: Type.Number({ exclusiveMinimum: 0, maximum: 1, description: 'duty, part of ten minutes' }),
    I2: positive(2000, 'rated welding current, A'),
    U2: positive(150, 'conventional load voltage, V'),
  },
  strict,
);

const processes = Type.Array(Process, { minItems: 1, maxItems: 3 });
const wires = Type.Array(positive(0.25, 'wire diameter, in'), { maxItems: 12 });

/** One gun of several: what it leaves out is as the plate says of the whole machine. */
export const Gun = Type.Object(
  {
    name: Type.String({ minLength: 1, maxLength: 60 }),
    processes: Type.Optional(processes),
    wireInches: Type.Optional(wires),
    pulse: Type.Optional(Type.Boolean()),
  },
  strict,
);
export type Gun = Static<typeof Gun>;

/** A welding power source's rating plate; names after IEC 60974-1. */
export const Plate = Type.Object(
  {
    name: Type.String({ minLength: 1, maxLength: 120 }),
    phases: Type.Union([Type.Literal(1), Type.Literal(3)]),
    hertz: Type.Optional(
      Type.Array(Type.Union([Type.Literal(50), Type.Literal(60)]), { minItems: 1, maxItems: 2 }),
    ),
    supply: Type.Array(PlateSupply, { minItems: 1, maxItems: 8 }),
    ratings: Type.Optional(Type.Array(PlateRating, { maxItems: 16 })),
    pulse: Type.Optional(Type.Boolean()),
    wireInches: Type.Optional(wires),
    processes: Type.Optional(processes),
    /**
     * What a lower voltage does: `constant-power` holds the output and draws more current (an
     * inverter), `constant-impedance` gives less (a transformer without regulation).
     */
    behaviour: Type.Optional(
      Type.Union([Type.Literal('constant-power'), Type.Literal('constant-impedance')]),
    ),
    /** Guns that stay on the machine, each set up for its own work. */
    guns: Type.Optional(Type.Array(Gun, { minItems: 1, maxItems: 8 })),
  },
  strict,
);
export type Plate = Static<typeof Plate>;
export type PlateSupply = Static<typeof PlateSupply>;
export type PlateRating = Static<typeof PlateRating>;
