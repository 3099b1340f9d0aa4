import { type Static, Type } from 'typebox';
import { Cord } from './circuit.ts';
import { Id, nullable } from './http.ts';
import { Check } from './http-check.ts';
import type { Judgement } from './judgement.ts';
import { arrangements } from './service.ts';

const Words = Type.String({ minLength: 1, maxLength: 80 });

/** What is said of a recording that is brought: the part `about` of the form. */
export const RecordingAbout = Type.Object(
  {
    circuit: nullable(Id),
    plate: nullable(Id),
    /** Between outlet and machine; empty: none. */
    cords: Type.Array(Cord, { maxItems: 8 }),
    /** Where it was recorded; null: not known, and the voltage is told of at the sensor. */
    at: nullable(Type.Enum(['outlet', 'machine'])),
    /** Keeps it as an outlet check; null: it is judged, and nothing stays. */
    keep: nullable(
      Type.Object(
        // Who is signed in, where nobody says.
        { person: Type.Optional(Words), place: Words },
        { additionalProperties: false },
      ),
    ),
  },
  { additionalProperties: false },
);
export type RecordingAbout = Static<typeof RecordingAbout>;

/** `Service` of service.ts. */
export const ServiceSchema = Type.Object({
  arrangement: Type.Enum([...arrangements]),
  voltsBetween: Type.Array(Type.Number(), { maxItems: 3 }),
});

/** `judgement` as `stiffline judge --json` prints it. */
export const JudgedRecording = Type.Object({
  judgement: Type.Unsafe<Judgement>({
    type: 'object',
    properties: { service: nullable(ServiceSchema) },
    additionalProperties: true,
  }),
  check: nullable(Check),
});
export type JudgedRecording = Static<typeof JudgedRecording>;
