import { type Static, Type } from 'typebox';
import { Id, nullable, PairOrNull, SayingSchema, SetUpStage, Time } from './http.ts';
import { DestructiveTest, SetUpSheet, Size, VisualTest } from './jobs.ts';

/**
 * What the HTTP API says of job sheets; what it takes stands in jobs.ts.
 *
 *   GET  /jobs                     ?open&before&limit → JobPage, newest first
 *   POST /jobs                     NewJob → JobView
 *   GET  /jobs/:id                 JobView
 *   POST /jobs/:id/close           {by} → JobView; ends its set-ups
 *   GET  /jobs/:id/arcs            ?setUp&before&limit → ArcPage
 *   GET  /jobs/:id/times.csv       a line a set-up, to copy onto a bill
 *   POST /jobs/:id/set-ups         NewSetUp → SetUpView; ends what was set up at that sensor
 *   GET  /set-ups/:id              SetUpView
 *   POST /set-ups/:id/clock        {run, by} → SetUpView
 *   POST /set-ups/:id/end          {by} → SetUpView
 *   POST /set-ups/:id/coupons      NewCoupon → SetUpView
 *   PUT  /coupons/:id/arcs         CouponArcs → SetUpView; the welding on it is over
 *   PUT  /coupons/:id/visual       {test, by} → SetUpView
 *   PUT  /coupons/:id/destructive  {test, by} → SetUpView
 *   POST /coupons/:id/decision     {by} → SetUpView; what was entered stays from then on
 */
const oneOf = <Words extends string[]>(...words: Words) => Type.Enum<Words>([...words]);

const SignSchema = Type.Object({ by: Type.String(), at: Time });

export const CouponReasonSchema = Type.Object({
  what: oneOf(
    ...(['arcs', 'visual', 'destructive', 'undercut', 'porosity'] as const),
    ...(['burn-through', 'size', 'button', 'machine'] as const),
  ),
  why: oneOf('said', 'measured', 'missing', 'changed'),
  measured: nullable(Size),
  limit: nullable(Size),
  says: Type.String(),
});

export const CouponView = Type.Object({
  id: Id,
  knobs: nullable(Type.String()),
  begun: SignSchema,
  /** Machine and circuit that hung on the sensor when it was begun. */
  machine: nullable(Type.String()),
  circuit: nullable(Type.String()),
  welded: nullable(SignSchema),
  /** Arcs that a person said belong to it. */
  arcs: Type.Array(Id),
  visual: nullable(Type.Object({ ...SignSchema.properties, test: VisualTest })),
  destructive: nullable(Type.Object({ ...SignSchema.properties, test: DestructiveTest })),
  /** By what is entered so far; fixed once decided. */
  outcome: oneOf('passed', 'failed', 'unfinished'),
  reasons: Type.Array(CouponReasonSchema),
  decided: nullable(
    Type.Object({ ...SignSchema.properties, outcome: oneOf('passed', 'failed', 'given-up') }),
  ),
  /** Supply power of its arcs, W, lowest and highest; null until it passed, or too short. */
  bandWatts: PairOrNull,
  stale: nullable(
    Type.Object({
      at: Time,
      why: Type.Array(Type.String()),
      /** One a reason; absent from what was stored before sentences had names. */
      sayings: Type.Optional(Type.Array(SayingSchema)),
    }),
  ),
});
export type CouponView = Static<typeof CouponView>;

export const SetUpView = Type.Object({
  id: Id,
  job: Id,
  jobNumber: Type.String(),
  sensor: Type.String(),
  sheet: SetUpSheet,
  begun: SignSchema,
  ended: nullable(
    Type.Object({ ...SignSchema.properties, why: oneOf('done', 'replaced', 'job-closed') }),
  ),
  /** From the begin to the coupon that passed, pauses taken out. */
  clock: Type.Object({
    seconds: Type.Number(),
    running: Type.Boolean(),
    /** A run went on for over four hours: look at it before it is billed. */
    long: Type.Boolean(),
    /** When `seconds` was read. */
    at: Time,
  }),
  /** What such a set-up commonly takes, minutes; for orientation alone. */
  usual: nullable(
    Type.Object({ minutes: Type.Tuple([Type.Number(), Type.Number()]), source: Type.String() }),
  ),
  /** What is to be done now. */
  stage: SetUpStage,
  coupons: Type.Array(CouponView),
  /** Of the coupons that passed and hold, W. */
  bandWatts: PairOrNull,
});
export type SetUpView = Static<typeof SetUpView>;

export const JobLine = Type.Object({
  id: Id,
  number: Type.String(),
  vehicle: Type.String(),
  opened: SignSchema,
  closed: nullable(SignSchema),
  setUps: Type.Integer(),
  coupons: Type.Integer(),
  setUpSeconds: Type.Number(),
});
export type JobLine = Static<typeof JobLine>;

export const JobPage = Type.Object({ jobs: Type.Array(JobLine), next: nullable(Id) });
export type JobPage = Static<typeof JobPage>;

export const JobView = Type.Object({ ...JobLine.properties, all: Type.Array(SetUpView) });
export type JobView = Static<typeof JobView>;
