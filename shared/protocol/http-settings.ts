import { type Static, Type } from 'typebox';
import { nullable } from './http.ts';

/**
 * What holds for the whole shop. A device may have units, language and time zone of its own.
 *
 *   GET  /settings                     ShopSettings
 *   PUT  /settings                     ShopSettings → ShopSettings
 */
export const ShopSettings = Type.Object(
  {
    /** Of the mains: for new circuits, and to foretell at those that name none; null: not said. */
    hertz: nullable(Type.Union([Type.Literal(50), Type.Literal(60)])),
    /** Feet and AWG, or metres and mm². What was typed stays as it was typed. */
    units: Type.Union([Type.Literal('us'), Type.Literal('metric')]),
    /** Null: each device speaks as its browser asks. */
    language: nullable(Type.Union([Type.Literal('en'), Type.Literal('de')])),
    /** Name of the IANA time zone data; null: each device's own. */
    timeZone: nullable(Type.String({ minLength: 1, maxLength: 64 })),
  },
  { additionalProperties: false },
);
export type ShopSettings = Static<typeof ShopSettings>;
