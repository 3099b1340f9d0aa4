import { type Kind, type SensorKind, sensorKinds } from '../../shared/protocol/topics.ts';

/** A message as a map, whatever stands in it. */
export type Loose = Record<string, unknown>;

const rowsCount = 4;
const float32s = (value: number) => new Float32Array(rowsCount).fill(value);
const timeUs = 1_764_000_000_000_000;

/** One sound message of each kind, of a sensor with one pair; what an attack starts from. */
export const sound: Record<Kind, Loose> = {
  about: {
    ...{ v: 1, boot: 1, name: 'hostile', pairs: 1, rate: 10_240, bits: 16, scale: [0.01, 0.002] },
    ...{ at: 'outlet', fw: 'test', site: 'harbour-lane' },
  },
  state: {
    ...{ v: 1, boot: 1, state: 'online', time: timeUs, sample: 1, oldest: 1, newest: 0 },
    health: { overruns: 0, driftPpm: 0.5 },
  },
  rows: {
    ...{ v: 1, boot: 1, first: 0, time: timeUs, n: rowsCount },
    ...{ end: Float64Array.of(170, 255, 340, 425), hz: float32s(60) },
    ...{ volts: [float32s(120)], amps: [float32s(1)], watts: [float32s(110)] },
  },
  arc: { v: 1, boot: 1, seq: 1, arc: 1, what: 'began', sample: 0, time: timeUs },
  wave: {
    ...{ v: 1, boot: 1, seq: 1, first: 0, time: timeUs, n: 8, lost: 0, flags: 0 },
    data: Int16Array.from({ length: 16 }, (_, at) => 700 * (at % 7)),
  },
  answer: { v: 1, id: 1, answer: { ok: true, settings: { triggerAmps: 0.7 } } },
  keep: { v: 1, seq: 1 },
  ask: { v: 1, id: 1, ask: 'get' },
};

/** What a number must never be. */
export const noNumbers = [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 1e308];
const edgeNumbers = [-0, Number.MAX_SAFE_INTEGER, -1, 0.5, 2 ** 48, 5e-324, 2n ** 60n];
const otherTypes = [null, true, '', 'word', [], {}, new Uint8Array(0)];
const hugeText = 'x'.repeat(20_000);
const hugeList = Array.from({ length: 5_000 }, (_, at) => at);

/** The value's own shape, column by column and key by key, filled with one number. */
function filled(value: unknown, by: number): unknown[] {
  if (value instanceof Float32Array || value instanceof Float64Array)
    return [value.map(() => by), value.map((was, at) => (at === value.length - 1 ? by : was))];
  if (value instanceof Int16Array) return [value.map(() => by)];
  if (Array.isArray(value)) {
    const inside = value.flatMap((one) => filled(one, by).map((each) => [each, ...value.slice(1)]));
    return [value.map(() => by), ...inside];
  }
  if (typeof value === 'object' && value !== null)
    return Object.keys(value).map((key) => ({ ...value, [key]: by }));
  return [by];
}

/** Another length or another kind of column under the same name. */
function misshapen(value: unknown): unknown[] {
  if (value instanceof Int16Array)
    return [new Int16Array(0), new Int16Array(3), new Int32Array(16).fill(-(2 ** 31))];
  if (!(value instanceof Float32Array || value instanceof Float64Array)) return [];
  return [new Float32Array(0), new Float64Array(rowsCount), new Int16Array(rowsCount), []];
}

export interface Attack {
  kind: SensorKind;
  field: string;
  says: string;
  message: Loose;
}

const called = (value: unknown) =>
  Object.is(value, -0)
    ? '-0'
    : typeof value === 'bigint'
      ? `${value}n`
      : String(value).slice(0, 40);

/** Every field of a kind, each with every value that it must not, or only just may, have. */
export function attacksOn(kind: SensorKind): Attack[] {
  return Object.entries(sound[kind]).flatMap(([field, value]) => {
    const { [field]: _, ...missing } = sound[kind];
    const numbers = [...noNumbers, -0, Number.MAX_SAFE_INTEGER, -(2 ** 31), 2 ** 48, 3e38];
    const bad = [
      ...numbers.flatMap((by) => filled(value, by)),
      ...[...noNumbers, ...edgeNumbers, ...otherTypes, hugeText, hugeList],
      ...misshapen(value),
    ];
    return [
      ...bad.map((by) => ({
        ...{ kind, field, says: called(by) },
        message: { ...sound[kind], [field]: by },
      })),
      { kind, field, says: 'missing', message: missing },
    ];
  });
}

export const allAttacks = (): Attack[] => sensorKinds.flatMap(attacksOn);

/** Numbers of 32 bits from a seed (xorshift, Marsaglia 2003). */
export function seeded(seed: number): () => number {
  let word = seed | 0 || 1;
  return () => {
    word ^= word << 13;
    word ^= word >>> 17;
    word ^= word << 5;
    return word >>> 0;
  };
}

/** Bytes that may begin as a map of ours does, and go on as chance has it. */
export function randomBytes(next: () => number, begins: Uint8Array): Uint8Array {
  const from = next() % 2 === 0 ? 0 : next() % begins.length;
  const bytes = new Uint8Array(from + (next() % 300));
  bytes.set(begins.subarray(0, from));
  for (let at = from; at < bytes.length; at++) bytes[at] = next();
  return bytes;
}

/** A sound payload with some of its bytes changed. */
export function mutated(next: () => number, payload: Uint8Array): Uint8Array {
  const bytes = payload.slice();
  for (let left = 1 + (next() % 4); left > 0; left--) bytes[next() % bytes.length] = next();
  return bytes;
}
