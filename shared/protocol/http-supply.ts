import { type Static, Type } from 'typebox';
import { FigureOrNull, nullable, Pair, Time } from './http.ts';

/** `Supply` of judgement.ts, of one pair at the end of one arc. */
export const SupplyPoint = Type.Object({
  at: Time,
  /** 1-based. */
  pair: Type.Integer({ minimum: 1, maximum: 3 }),
  openVolts: Type.Number(),
  ohmsR: Type.Number(),
  ohmsX: Type.Number(),
  ohmsR95: Pair,
  ohmsX95: Pair,
  steps: Type.Integer(),
});
export type SupplyPoint = Static<typeof SupplyPoint>;

const TrendEnd = Type.Object({ at: Time, ohmsR: Type.Number(), ohmsR95: Pair });

/**
 * The newest estimate against the first weeks' of the same wiring: `risen` when its 95 % interval
 * lies wholly above theirs, by more than warm wire makes; `few` where there is too little yet.
 */
export const SupplyTrendSchema = Type.Object({
  pair: Type.Integer({ minimum: 1, maximum: 3 }),
  kind: Type.Union([Type.Literal('risen'), Type.Literal('steady'), Type.Literal('few')]),
  before: nullable(TrendEnd),
  now: TrendEnd,
});
export type SupplyTrendSchema = Static<typeof SupplyTrendSchema>;

/** In order of time; of a long stretch the last estimate of each of its parts. */
export const SupplyHistory = Type.Object({
  from: Time,
  to: Time,
  points: Type.Array(SupplyPoint),
  /** One entry a pair, over all that is stored; none while no arc has shown the supply. */
  trends: Type.Array(SupplyTrendSchema),
});
export type SupplyHistory = Static<typeof SupplyHistory>;

/** `OtherLoad` of judgement.ts with its time. */
export const OtherLoadSchema = Type.Object({
  at: Time,
  atS: Type.Number(),
  channel: Type.Integer(),
  volts: Type.Number(),
  halfWidthVolts: Type.Number(),
  amps: FigureOrNull,
  halfWidthAmps: FigureOrNull,
  duringArc: Type.Boolean(),
});
/** In order of time; `more` where the list was cut. */
export const OtherLoadList = Type.Object({
  events: Type.Array(OtherLoadSchema),
  more: Type.Boolean(),
});
export type OtherLoadList = Static<typeof OtherLoadList>;
