import { type Static, Type } from 'typebox';
import { Compile } from 'typebox/compile';
import { messageLimits as limits } from './message-limits.ts';
import type { Kind } from './topics.ts';
import { fromLooseWire, fromWire, toWire } from './wire.ts';

/**
 * What travels over MQTT, one CBOR map a message, all with the wire version `v`. Sample positions
 * count frames since the sensor's start (`boot`); times are microseconds since 1970 UTC; `seq`
 * numbers what must not be lost (`arc`, `wave`) and goes on over boots.
 */
export const wireVersion = 1;
/** Frames in one `wave`: 100 ms of the usual sensor, 8 kB for one pair of 32 bits. */
export const waveFramesMost = 1024;
/** Rows in one `rows`: a second of half cycles at 69 Hz, twice over. */
export const rowsMost = 280;
/**
 * Bytes of the largest payload: three pairs of 32-bit counts in a full wave are 24,576; the rest is
 * keys. A broker refuses more before it buffers it.
 */
export const payloadBytesMost = 32_768;

/** A column of which every value lies in a range; NaN lies in none. */
const column = <T extends Float32Array | Float64Array>(
  shape: abstract new (...from: never[]) => T,
  tag: string,
  [least, most]: readonly [number, number],
) =>
  Type.Refine(
    Type.Refine(
      Type.Unsafe<T>({ description: `${tag}, each from ${least} to ${most}` }),
      (value) => value instanceof shape,
      () => `must be ${tag}`,
    ),
    (value) => !(value instanceof shape) || within(value, least, most),
    () => `must hold values from ${least} to ${most}`,
  );
const float32s = (range: readonly [number, number]) =>
  column(Float32Array, 'float32 (tag 85)', range);

/** A loop: a callback a value would cost more than all else of a message. */
function within(values: Float32Array | Float64Array, least: number, most: number): boolean {
  for (let at = 0; at < values.length; at++)
    if (!(values[at]! >= least && values[at]! <= most)) return false;
  return true;
}

const Counts = Type.Refine(
  Type.Unsafe<Int16Array | Int32Array>({ description: 'sint16 (tag 77) or sint32 (tag 78)' }),
  (value) => value instanceof Int16Array || value instanceof Int32Array,
  () => 'must be sint16 (tag 77) or sint32 (tag 78)',
);

const Version = Type.Literal(wireVersion);
const Count = Type.Integer({ minimum: 0, maximum: limits.countMost });
const Boot = Count;
const Micros = Type.Integer({ minimum: 0, maximum: limits.timeMostUs });
const Words = Type.String({ minLength: 1, maxLength: limits.wordLength });
const perPair = (range: readonly [number, number]) =>
  Type.Array(float32s(range), { minItems: 1, maxItems: 3 });

/** What the sensor is. Retained. `scale` is volts or amperes for one count, v1, i1, v2 … */
export const About = Type.Object({
  v: Version,
  boot: Boot,
  name: Words,
  pairs: Type.Integer({ minimum: 1, maximum: 3 }),
  rate: Type.Number({ minimum: limits.rateHz.least, maximum: limits.rateHz.most }),
  bits: Type.Integer({ minimum: 8, maximum: 32 }),
  scale: Type.Array(Type.Number({ minimum: -limits.scaleMost, maximum: limits.scaleMost }), {
    minItems: 2,
    maxItems: 6,
  }),
  /** The end of the cord that it sits at; left out where whoever put it there did not say. */
  at: Type.Optional(Type.Union([Type.Literal('outlet'), Type.Literal('machine')])),
  fw: Words,
  site: Words,
});
export type About = Static<typeof About>;

/** The last will, which the broker tells for a sensor that can no longer. */
export const Will = Type.Object({ v: Version, state: Type.Literal('lost') });

/** How it is: retained, every five seconds and on change. `oldest` … `newest`: kept seqs. */
export const State = Type.Object({
  v: Version,
  boot: Boot,
  state: Type.Union([
    Type.Literal('online'),
    Type.Literal('arc'),
    Type.Literal('offline'),
    Type.Literal('lost'),
  ]),
  time: Micros,
  sample: Count,
  oldest: Count,
  newest: Count,
  health: Type.Refine(
    Type.Record(
      Type.String(),
      Type.Number({ minimum: -limits.healthMost, maximum: limits.healthMost }),
      { maxProperties: limits.healthNames },
    ),
    (health) => Object.keys(health).every((name) => name.length <= limits.healthNameLength),
    () => `must have names of at most ${limits.healthNameLength} letters`,
  ),
});
export type State = Static<typeof State>;

/**
 * Half-cycle rows of one second. `first` is the first row's number since the sensor's start, `end`
 * the end of each one-cycle window in samples, `time` that of the first of them.
 */
export const Rows = Type.Object({
  v: Version,
  boot: Boot,
  first: Count,
  time: Micros,
  n: Type.Integer({ minimum: 1, maximum: rowsMost }),
  end: column(Float64Array, 'float64 (tag 86)', [0, limits.countMost]),
  hz: float32s([0, limits.hertzMost]),
  volts: perPair([0, limits.voltsMost]),
  amps: perPair([0, limits.ampsMost]),
  watts: perPair([-limits.wattsMost, limits.wattsMost]),
});
export type Rows = Static<typeof Rows>;

/** The sensor's own sight of an arc's border. */
export const ArcEdge = Type.Object({
  v: Version,
  boot: Boot,
  seq: Count,
  arc: Count,
  what: Type.Union([Type.Literal('began'), Type.Literal('ended')]),
  sample: Type.Number({ minimum: 0, maximum: limits.countMost }),
  time: Micros,
});
export type ArcEdge = Static<typeof ArcEdge>;

/** A block of samples, interleaved v1, i1, v2 … `lost` frames went missing just before it. */
export const Wave = Type.Object({
  v: Version,
  boot: Boot,
  seq: Count,
  first: Count,
  time: Micros,
  n: Type.Integer({ minimum: 1, maximum: waveFramesMost }),
  lost: Count,
  flags: Type.Integer({ minimum: 0, maximum: 0xffff_ffff }),
  data: Counts,
});
export type Wave = Static<typeof Wave>;

/** Server to sensor: all up to and including `seq` is on disk, and may be let go. */
export const Keep = Type.Object({ v: Version, seq: Count });
export type Keep = Static<typeof Keep>;

/** A question to the sensor and its reply; what may be asked is the sensor's to say. */
export const Ask = Type.Object({ v: Version, id: Count, ask: Words });
export type Ask = Static<typeof Ask>;
export const Answer = Type.Object({
  v: Version,
  id: Count,
  answer: Type.Refine(
    Type.Unknown(),
    (value) => plainValues(value, limits.answerDepth) <= limits.answerValues,
    () => `must be at most ${limits.answerValues} plain finite values, ${limits.answerDepth} deep`,
  ),
});
export type Answer = Static<typeof Answer>;

export interface MessageOf {
  about: About;
  state: State | Static<typeof Will>;
  rows: Rows;
  arc: ArcEdge;
  wave: Wave;
  keep: Keep;
  ask: Ask;
  answer: Answer;
}

/** What each kind's payload must be; typed arrays are those of RFC 8746, little-endian. */
export const messageSchemas = {
  about: About,
  state: Type.Union([State, Will]),
  rows: Rows,
  arc: ArcEdge,
  wave: Wave,
  keep: Keep,
  ask: Ask,
  answer: Answer,
} as const satisfies Record<Kind, unknown>;

const checks = {
  about: Compile(messageSchemas.about),
  state: Compile(messageSchemas.state),
  rows: Compile(messageSchemas.rows),
  arc: Compile(messageSchemas.arc),
  wave: Compile(messageSchemas.wave),
  keep: Compile(messageSchemas.keep),
  ask: Compile(messageSchemas.ask),
  answer: Compile(messageSchemas.answer),
};

const isCount = Compile(Count);
/** Whether what was stored as a sensor's words, by whichever version, is such. */
export const isAbout = (value: unknown): value is About =>
  checks.about.Check(value) && columnsOff('about', value) === null;

/** Why a payload was refused; a fault of the link or of the sender, counted, never thrown. */
export type Refused = { fault: 'too-long' | 'no-cbor' | 'wrong-shape'; says: string };
export type Decoded<K extends Kind> = { message: MessageOf[K] } | Refused;

export const encodeMessage = <K extends Kind>(_kind: K, message: MessageOf[K]): Uint8Array =>
  toWire(message);

/** Reads one payload and checks it against its kind. */
export function decodeMessage<K extends Kind>(kind: K, payload: Uint8Array): Decoded<K> {
  if (payload.length > payloadBytesMost)
    return { fault: 'too-long', says: `${payload.length} bytes, at most ${payloadBytesMost}` };
  let value: unknown;
  try {
    value = fromWire(payload);
  } catch (error) {
    return { fault: 'no-cbor', says: error instanceof Error ? error.message : String(error) };
  }
  const check = checks[kind];
  if (!check.Check(value)) return { fault: 'wrong-shape', says: `${kind}: ${why(check, value)}` };
  const off = columnsOff(kind, value as MessageOf[Kind]);
  if (off) return { fault: 'wrong-shape', says: `${kind}: ${off}` };
  return { message: value as MessageOf[K] };
}

function why(check: (typeof checks)[Kind], value: unknown): string {
  const [first] = check.Errors(value);
  return first ? `${first.instancePath || 'the map'} ${first.message}` : 'not of its shape';
}

/**
 * The number of a numbered message that is else no good, as far as one can be read: what comes
 * after it must not wait for it for ever.
 */
export function numberOf(payload: Uint8Array): number | null {
  if (payload.length > payloadBytesMost) return null;
  try {
    const { seq } = fromLooseWire(payload) as { seq?: unknown };
    return isCount.Check(seq) ? seq : null;
  } catch {
    return null;
  }
}

/** Values in a plain tree, maps and lists counted too; infinite where it is no such tree. */
function plainValues(value: unknown, depth: number): number {
  if (value === null || typeof value === 'boolean') return 1;
  if (typeof value === 'string')
    return value.length <= limits.answerTextLength ? 1 : Number.POSITIVE_INFINITY;
  if (typeof value === 'number') return Number.isFinite(value) ? 1 : Number.POSITIVE_INFINITY;
  if (typeof value !== 'object' || ArrayBuffer.isView(value) || depth === 0)
    return Number.POSITIVE_INFINITY;
  const entries = Object.entries(value);
  if (entries.some(([name]) => name.length > limits.answerTextLength))
    return Number.POSITIVE_INFINITY;
  return entries.reduce((sum, [, each]) => sum + plainValues(each, depth - 1), 1);
}

/** What a schema cannot say: that columns are as long as the message claims, and in order. */
function columnsOff(kind: Kind, message: MessageOf[Kind]): string | null {
  if (kind === 'about') {
    const { scale, pairs } = message as About;
    return scale.length === 2 * pairs ? null : `${scale.length} scales for ${pairs} pairs`;
  }
  if (kind === 'wave') {
    const { data, n } = message as Wave;
    const channels = data.length / n;
    return [2, 4, 6].includes(channels) ? null : `/data holds ${data.length} counts for n = ${n}`;
  }
  if (kind === 'rows') {
    const { n, end, hz, volts, amps, watts } = message as Rows;
    if (volts.length !== amps.length || volts.length !== watts.length)
      return 'volts, amps and watts differ in pairs';
    const columns = [end, hz, ...volts, ...amps, ...watts];
    if (columns.some(({ length }) => length !== n)) return `columns are not n = ${n} long`;
    for (let at = 1; at < n; at++)
      if (!(end[at]! > end[at - 1]!)) return `/end does not rise at ${at}`;
    return null;
  }
  return null;
}
