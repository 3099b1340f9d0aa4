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

/** Air around a wire, where it is not the 30 °C that tables of ampacity are made for. */
const Ambient = {
  ambientCelsius: Type.Optional(Type.Number({ minimum: -40, maximum: 80 })),
};
/** How fixed conductors lie, and what they are made of: what their ampacity hangs on. */
const Laid = {
  ...Ambient,
  /** Of IEC 60364-5-52, metric wire alone; left out: B2. */
  method: Type.Optional(Type.Union([Type.Literal('B1'), Type.Literal('B2'), Type.Literal('C')])),
  /** AWG wire 60, 75 or 90; metric wire 70 (PVC) or 90 (XLPE). */
  insulationCelsius: Type.Optional(
    Type.Union([Type.Literal(60), Type.Literal(70), Type.Literal(75), Type.Literal(90)]),
  ),
  /** Circuits that lie in one raceway, cable or bunch, this one counted. */
  groupedCircuits: Type.Optional(Type.Integer({ minimum: 1, maximum: 9 })),
  /** What breaker and receptacle are marked for, NEC 110.14(C); AWG wire alone. */
  terminalsCelsius: Type.Optional(Type.Union([Type.Literal(60), Type.Literal(75)])),
};

/** Fixed conductors from the panel to the receptacle; length is one way. */
export const Branch = Type.Object(
  { ...Gauge, metal: Type.Optional(Metal), ...Length, ...Laid },
  strict,
);
/** A flexible cord plugged in after the receptacle; copper; length is one way. */
export const Cord = Type.Object({ ...Gauge, ...Length, ...Ambient }, strict);

/** Breaker, branch conductors and receptacle, with the cords plugged into it. */
export const Circuit = Type.Object(
  {
    name: Type.String({ minLength: 1, maxLength: 120 }),
    volts: Type.Number({ exclusiveMinimum: 0, maximum: 1000, description: 'nominal, V r.m.s.' }),
    phases: Type.Optional(Type.Union([Type.Literal(1), Type.Literal(3)])),
    hertz: Type.Optional(Type.Union([Type.Literal(50), Type.Literal(60)])),
    breakerAmps: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1000 })),
    /** Type of an IEC 60898-1 breaker: how high a peak it bears. */
    breakerType: Type.Optional(
      Type.Union([Type.Literal('B'), Type.Literal('C'), Type.Literal('D')]),
    ),
    receptacleAmps: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1000 })),
    dedicated: Type.Optional(Type.Boolean()),
    /** Of a four-wire 120/240 V circuit: 120 V loads on it make its neutral carry current. */
    neutralLoaded: Type.Optional(Type.Boolean()),
    branch: Type.Optional(Branch),
    cords: Type.Optional(Type.Array(Cord, { maxItems: 8 })),
    sensorAt: Type.Optional(Type.Union([Type.Literal('outlet'), Type.Literal('machine')])),
  },
  strict,
);
export type Circuit = Static<typeof Circuit>;
export type Branch = Static<typeof Branch>;
export type Cord = Static<typeof Cord>;
