import { type Static, Type } from 'typebox';
import { Process } from './processes.ts';

/**
 * What a shop types into a job sheet. Every threshold stands here because a person copied it from
 * the vehicle maker's procedure: nothing of it is known to this program.
 */
const strict = { additionalProperties: false } as const;
const oneOf = <Words extends string[]>(...words: Words) => Type.Enum<Words>([...words]);
const words = (maxLength: number) => Type.String({ minLength: 1, maxLength });
/** Left out where a person is signed in on the device. */
const signedBy = Type.Optional(words(80));
const length = (maximum: number) => Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum }));

/** A length as it was typed: in millimetres or in inches, one of the two. */
export const Size = Type.Object({ mm: length(500), inches: length(20) }, strict);
export type Size = Static<typeof Size>;

/** One of the two sheets that are joined. */
export const Sheet = Type.Object({ metal: words(80), thick: Size }, strict);
export type Sheet = Static<typeof Sheet>;

export const Joint = oneOf('plug', 'slot', 'lap', 'butt', 'fillet');
export type Joint = Static<typeof Joint>;
export const Position = oneOf('flat', 'horizontal', 'vertical-up', 'vertical-down', 'overhead');
export type Position = Static<typeof Position>;

/** What is to be welded, and with what. */
export const SetUpWork = Type.Object(
  {
    process: Process,
    sheets: Type.Tuple([Sheet, Sheet]),
    joint: Joint,
    wire: Type.Optional(Size),
    wireKind: Type.Optional(words(80)),
    gas: Type.Optional(words(80)),
    pulse: Type.Boolean(),
    position: Position,
    /** Least that the machine must give for it: part of its rated output, or welding current. */
    leastOutput: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1 })),
    leastWeldAmps: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 2000 })),
  },
  strict,
);
export type SetUpWork = Static<typeof SetUpWork>;

/**
 * The vehicle maker's procedure as the shop types it in. What it leaves open is left out, and then
 * nothing is measured against it: the person at the coupon says pass or fail.
 */
export const Procedure = Type.Object(
  {
    /** Its number or title, by which it is found again. */
    reference: words(120),
    /** Least diameter of the button that must be left when the coupon is torn. */
    leastButton: Type.Optional(Size),
    /** Least size of the weld that is seen: a fillet's leg, a bead's width, a plug's face. */
    leastSize: Type.Optional(Size),
    mostUndercut: Type.Optional(Size),
    /** Largest pore that may be seen. */
    mostPore: Type.Optional(Size),
    /** Least rated supply voltage of the machine, V: the class of machine that it asks for. */
    machineVolts: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1000 })),
  },
  strict,
);
export type Procedure = Static<typeof Procedure>;

export const SetUpSheet = Type.Object({ work: SetUpWork, procedure: Procedure }, strict);
export type SetUpSheet = Static<typeof SetUpSheet>;

/** One thing that is looked at: what the person says, and the figure where it was measured. */
const Looked = Type.Object({ pass: Type.Boolean(), measured: Type.Optional(Size) }, strict);
export type Looked = Static<typeof Looked>;

export const VisualTest = Type.Object(
  {
    undercut: Looked,
    porosity: Looked,
    burnThrough: Type.Object({ pass: Type.Boolean() }, strict),
    size: Looked,
    note: Type.Optional(words(300)),
  },
  strict,
);
export type VisualTest = Static<typeof VisualTest>;

export const DestructiveTest = Type.Object(
  {
    method: oneOf('peel', 'chisel', 'bend', 'tear'),
    /** Whether a button of metal was left; left out where the test leaves none. */
    buttonLeft: Type.Optional(Type.Boolean()),
    button: Type.Optional(Size),
    pass: Type.Boolean(),
    note: Type.Optional(words(300)),
  },
  strict,
);
export type DestructiveTest = Static<typeof DestructiveTest>;

/** Begins a job sheet. */
export const NewJob = Type.Object({ number: words(40), vehicle: words(160), by: signedBy }, strict);
export type NewJob = Static<typeof NewJob>;

/** Begins a set-up of a job; the machine is what hangs on the sensor now. */
export const NewSetUp = Type.Object({ sensor: words(65), sheet: SetUpSheet, by: signedBy }, strict);
export type NewSetUp = Static<typeof NewSetUp>;

/** Begins a coupon; `knobs` is how the machine is set, in the shop's own words. */
export const NewCoupon = Type.Object({ knobs: Type.Optional(words(300)), by: signedBy }, strict);
export type NewCoupon = Static<typeof NewCoupon>;

/** A person's signature under something that needs no more words. */
export const Signed = Type.Object({ by: signedBy }, strict);

export const ClockWish = Type.Object({ run: Type.Boolean(), by: signedBy }, strict);

/** Arcs that belong to a coupon, most: a coupon is an offcut with a handful of welds. */
export const mostCouponArcs = 100;
export const CouponArcs = Type.Object(
  {
    arcs: Type.Array(Type.Integer({ minimum: 1, maximum: Number.MAX_SAFE_INTEGER }), {
      maxItems: mostCouponArcs,
    }),
    by: signedBy,
  },
  strict,
);
export type CouponArcs = Static<typeof CouponArcs>;

export const NewVisual = Type.Object({ test: VisualTest, by: signedBy }, strict);
export const NewDestructive = Type.Object({ test: DestructiveTest, by: signedBy }, strict);

/** Which job, set-up and coupon an arc belongs to; kept with the arc. */
export interface ArcWeld {
  job: number;
  jobNumber: string;
  setUp: number;
  /** The coupon that it was welded on, or the passed one that stands behind it. */
  coupon: number | null;
  /** `coupon`: on an offcut. `vehicle`: behind it stands a coupon that passed. `untested`: none. */
  on: 'coupon' | 'vehicle' | 'untested';
}

/** One reason why a coupon has not passed. */
export interface CouponReason {
  what:
    | 'arcs'
    | 'visual'
    | 'destructive'
    | 'undercut'
    | 'porosity'
    | 'burn-through'
    | 'size'
    | 'button'
    | 'machine';
  /** `said`: a person said fail. `measured`: beyond the procedure's limit. `missing`: not yet. */
  why: 'said' | 'measured' | 'missing' | 'changed';
  measured: Size | null;
  limit: Size | null;
  says: string;
}

export type CouponOutcome = 'passed' | 'failed' | 'unfinished';
