import { type Static, Type } from 'typebox';
import { Id, nullable, SayingSchema, Time } from './http.ts';

/**
 * What the HTTP API says of people, of who is signed in, and of what was changed.
 *
 *   GET  /me                        Me
 *   POST /me                        SignIn → Me, and a session on this device
 *   DELETE /me                      Me, signed out
 *   GET  /people                    Person[]; those who left are told to leads alone
 *   POST /people                    NewPerson → Person
 *   PUT  /people/:id                ChangedPerson → Person
 *   GET  /audit                     ?area&person&from&to&before&limit → AuditPage, newest first
 *   GET  /audit.csv                 ?area&person&from&to → the whole list as CSV
 */
const oneOf = <Words extends string[]>(...words: Words) => Type.Enum<Words>([...words]);

/** `watch` looks; `weld` sees to flags, checks and job sheets; `lead` changes what there is. */
export const Role = oneOf('watch', 'weld', 'lead');
export type Role = Static<typeof Role>;

const Name = Type.String({ minLength: 1, maxLength: 80 });
/** Four digits can be tapped in gloves; more than eight nobody keeps in mind. */
const Pin = Type.String({ pattern: '^\\d{4,8}$' });

/** A person, without what proves that it is that person. */
export const Person = Type.Object({
  id: Id,
  name: Type.String(),
  role: Role,
  /** Left the shop: signs in no more, but stays named under what was done. */
  disabled: Type.Boolean(),
});
export type Person = Static<typeof Person>;

export const NewPerson = Type.Object(
  { name: Name, role: Role, pin: Pin },
  { additionalProperties: false },
);
export type NewPerson = Static<typeof NewPerson>;

/** What is left out stays as it is. */
export const ChangedPerson = Type.Object(
  {
    name: Type.Optional(Name),
    role: Type.Optional(Role),
    pin: Type.Optional(Pin),
    disabled: Type.Optional(Type.Boolean()),
  },
  { additionalProperties: false },
);
export type ChangedPerson = Static<typeof ChangedPerson>;

export const SignIn = Type.Object(
  { person: Id, pin: Type.String({ maxLength: 16 }) },
  { additionalProperties: false },
);

/** Who asks, as the server takes it. */
export const Me = Type.Object({
  /** Null: nobody is signed in on this device. */
  person: nullable(Person),
  /** What may be done now, signed in or not. */
  role: Role,
  /** When a person's session ends by itself. */
  until: nullable(Time),
  /** True on the machine that Stiffline runs on. */
  own: Type.Boolean(),
  /** False until the first person was added. */
  people: Type.Boolean(),
});
export type Me = Static<typeof Me>;

/** What a change was made to. */
export const AuditArea = oneOf(
  ...(['plates', 'circuits', 'assignments', 'feeders', 'arcs', 'checks', 'jobs'] as const),
  ...(['people', 'sign-in', 'settings'] as const),
);
export type AuditArea = Static<typeof AuditArea>;

/** One change: never edited, never taken away. */
export const AuditEntry = Type.Object({
  id: Id,
  at: Time,
  /** Null: nobody was signed in. */
  person: nullable(Type.Object({ id: Id, name: Type.String() })),
  /** Network address; null: the machine that Stiffline runs on. */
  device: nullable(Type.String()),
  area: AuditArea,
  /** Which one: `plate 3`. */
  subject: Type.String(),
  says: Type.String(),
  saying: Type.Optional(SayingSchema),
  before: Type.Unknown(),
  after: Type.Unknown(),
});
export type AuditEntry = Static<typeof AuditEntry>;

/** Newest first; `next` is the cursor of the following page, null on the last one. */
export const AuditPage = Type.Object({
  entries: Type.Array(AuditEntry),
  next: nullable(Id),
});
export type AuditPage = Static<typeof AuditPage>;
