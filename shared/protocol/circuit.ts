import { type Static, Type } from 'typebox';

const strict = { additionalProperties: false } as const;
const Length = {
  feet: Type.Optional(Type.Number({ minimum: 0, maximum: 10_000 })),
  metres: Type.Optional(Type.Number({ minimum: 0, maximum: 3_000 })),
};
/** Gauge as the trade writes it: 14, 10, "1/0" … "4/0"; or a section in mm². */
const Gauge = {
  awg: Type.Optional(
    Type.Union([
      Type.Integer({ minimum: 1, maximum: 18 }),
      Type.Literal('1/0'),
      Type.Literal('2/0'),
      Type.Literal('3/0'),
      Type.Literal('4/0'),
    ]),
  ),
  mm2: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 500 })),
};
const Metal = Type.Union([Type.Literal('copper'), Type.Literal('aluminium')]);

/** Fixed conductors from the panel to the receptacle; length is one way. */
export const Branch = Type.Object({ ...Gauge, metal: Type.Optional(Metal), ...Length }, strict);
/** A flexible cord plugged in after the receptacle; copper; length is one way. */
export const Cord = Type.Object({ ...Gauge, ...Length }, strict);

/** Breaker, branch conductors and receptacle, with the cords plugged into it. */
export const Circuit = Type.Object(
  {
    name: Type.String({ minLength: 1, maxLength: 120 }),
    volts: Type.Number({ exclusiveMinimum: 0, maximum: 1000, description: 'nominal, V r.m.s.' }),
    phases: Type.Optional(Type.Union([Type.Literal(1), Type.Literal(3)])),
    hertz: Type.Optional(Type.Union([Type.Literal(50), Type.Literal(60)])),
    breakerAmps: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1000 })),
    receptacleAmps: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1000 })),
    dedicated: Type.Optional(Type.Boolean()),
    branch: Type.Optional(Branch),
    cords: Type.Optional(Type.Array(Cord, { maxItems: 8 })),
    sensorAt: Type.Optional(Type.Union([Type.Literal('outlet'), Type.Literal('machine')])),
  },
  strict,
);
export type Circuit = Static<typeof Circuit>;
export type Branch = Static<typeof Branch>;
export type Cord = Static<typeof Cord>;
