import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { messageLimits as limits } from '../../shared/protocol/message-limits.ts';
import { decodeMessage, encodeMessage, numberOf } from '../../shared/protocol/messages.ts';
import { type Kind, sensorKinds, serverKinds } from '../../shared/protocol/topics.ts';
import { fromWire, toWire } from '../../shared/protocol/wire.ts';
import { allAttacks, type Loose, noNumbers, sound } from '../attack/hostile.ts';

const kinds: Kind[] = [...sensorKinds, ...serverKinds];
const refused = (kind: Kind, message: Loose) => 'fault' in decodeMessage(kind, toWire(message));

/** Paths of every number in a message, those within columns too: the first and the last. */
function numbersIn(value: unknown, path: (string | number)[] = []): (string | number)[][] {
  if (typeof value === 'number') return [path];
  // Counts are integers by their type: no wrong one can be written in them.
  if (value instanceof Int16Array || value instanceof Uint8Array) return [];
  if (ArrayBuffer.isView(value)) return [0, 1, 3].map((at) => [...path, at]);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, each]) => numbersIn(each, [...path, key]));
}

function withAt(value: unknown, [key, ...path]: (string | number)[], put: unknown): unknown {
  if (key === undefined) return put;
  if (value instanceof Float32Array || value instanceof Float64Array)
    return value.map((was, at) => (at === key ? Number(put) : was));
  const copy = (Array.isArray(value) ? [...value] : { ...(value as Loose) }) as Loose;
  copy[key] = withAt(copy[key], path, put);
  return copy;
}

describe.each(kinds)('every figure of %s', (kind) => {
  it('is taken as it is sound', () => {
    expect(decodeMessage(kind, toWire(sound[kind]))).toEqual({ message: sound[kind] });
  });

  const places = numbersIn(sound[kind]).map((path) => [path.join('/'), path] as const);
  it.each(places)('%s is refused where it is no finite number, or beyond all reason', (_, path) => {
    for (const put of noNumbers) {
      // What only a reader of the answer could judge is held to be finite, no more.
      if (path[0] === 'answer' && put === 1e308) continue;
      expect(refused(kind, withAt(sound[kind], path, put) as Loose), String(put)).toBe(true);
    }
  });
});

describe('an attack that the schema lets through', () => {
  it('brings only finite figures of reasonable size, in columns of the same length', () => {
    const passed = allAttacks().filter(({ kind, message }) => !refused(kind, message));
    // A sensor may leave out nothing, and some odd values are in range.
    expect(passed.length).toBeGreaterThan(20);
    for (const { kind, message, field, says } of passed)
      for (const path of numbersIn(message)) {
        const value = path.reduce((at, key) => (at as Loose)[key as string], message as unknown);
        const what = `${kind} ${field} ${says} ${path.join('/')}`;
        expect(Number.isFinite(value), what).toBe(true);
        if (path[0] !== 'answer' && path[0] !== 'health')
          expect(Math.abs(value as number), what).toBeLessThanOrEqual(limits.timeMostUs);
      }
  });

  it('is a minority: the fields are refused by nearly all of them', () => {
    const all = allAttacks();
    const passed = all.filter(({ kind, message }) => !refused(kind, message));
    expect(all.length).toBeGreaterThan(1_200);
    expect(passed.length / all.length).toBeLessThan(0.2);
    for (const kind of sensorKinds)
      for (const field of Object.keys(sound[kind])) {
        // Where it sits a sensor need not know.
        if (field === 'at') continue;
        const { [field]: _, ...without } = sound[kind];
        expect(refused(kind, without), `${kind} ${field}`).toBe(true);
      }
  });
});

describe('limits, from just within to just beyond', () => {
  const column = (value: number) => new Float32Array(4).fill(value);
  const up = (value: number) => Math.fround(value) * (1 + 2 ** -22);
  it.each<[Kind, string, (value: number) => Loose, number, number]>([
    ['state', 'time', (time) => ({ time }), limits.timeMostUs, limits.timeMostUs + 1],
    ['wave', 'first', (first) => ({ first }), limits.countMost, limits.countMost + 1],
    ['wave', 'seq', (seq) => ({ seq }), limits.countMost, limits.countMost + 1],
    ['wave', 'flags', (flags) => ({ flags }), 0xffff_ffff, 0x1_0000_0000],
    ['arc', 'sample', (sample) => ({ sample }), 0.5, -0.5],
    ['about', 'rate', (rate) => ({ rate }), limits.rateHz.most, limits.rateHz.most + 1],
    ['about', 'rate', (rate) => ({ rate }), limits.rateHz.least, limits.rateHz.least - 1],
    ['about', 'scale', (by) => ({ scale: [0.01, by] }), limits.scaleMost, limits.scaleMost + 1],
    ['about', 'scale', (by) => ({ scale: [-by, 1] }), limits.scaleMost, limits.scaleMost + 1],
    ['rows', 'hz', (by) => ({ hz: column(by) }), limits.hertzMost, up(limits.hertzMost)],
    ['rows', 'hz', (by) => ({ hz: column(by) }), 0, -1],
    ['rows', 'volts', (by) => ({ volts: [column(by)] }), limits.voltsMost, up(limits.voltsMost)],
    ['rows', 'volts', (by) => ({ volts: [column(by)] }), 0, -0.01],
    ['rows', 'amps', (by) => ({ amps: [column(by)] }), limits.ampsMost, up(limits.ampsMost)],
    ['rows', 'watts', (by) => ({ watts: [column(-by)] }), 1e9, 2e11],
    ['rows', 'first', (first) => ({ first }), 7, 7.5],
  ])('%s: %s', (kind, _, put, within, beyond) => {
    expect(refused(kind, { ...sound[kind], ...put(within) })).toBe(false);
    expect(refused(kind, { ...sound[kind], ...put(beyond) })).toBe(true);
  });

  it('ends of rows rise, each beyond the one before', () => {
    const ends = (...end: number[]) => ({ ...sound.rows, end: Float64Array.from(end) });
    expect(refused('rows', ends(1, 2, 3, 4))).toBe(false);
    for (const bad of [ends(1, 2, 2, 4), ends(1, 2, 4, 3), ends(2, 1, 3, 4), ends(-1, 2, 3, 4)])
      expect(refused('rows', bad)).toBe(true);
  });

  it('words, names and answers have a length, and something in them', () => {
    const words = (name: string) => ({ ...sound.about, name });
    expect(refused('about', words('x'.repeat(limits.wordLength)))).toBe(false);
    expect(refused('about', words('x'.repeat(limits.wordLength + 1)))).toBe(true);
    expect(refused('about', words(''))).toBe(true);
    const health = (count: number, length: number) => ({
      ...sound.state,
      health: Object.fromEntries(
        Array.from({ length: count }, (_, at) => [String(at).padEnd(length, 'x'), at]),
      ),
    });
    expect(refused('state', health(limits.healthNames, limits.healthNameLength))).toBe(false);
    expect(refused('state', health(limits.healthNames + 1, 9))).toBe(true);
    expect(refused('state', health(1, limits.healthNameLength + 1))).toBe(true);
    const answer = (value: unknown) => ({ ...sound.answer, answer: value });
    const deep = (depth: number): unknown => (depth === 0 ? 1 : [deep(depth - 1)]);
    expect(refused('answer', answer(deep(limits.answerDepth)))).toBe(false);
    expect(refused('answer', answer(deep(limits.answerDepth + 1)))).toBe(true);
    expect(refused('answer', answer('x'.repeat(limits.answerTextLength + 1)))).toBe(true);
    expect(refused('answer', answer({ ['x'.repeat(limits.answerTextLength + 1)]: 1 }))).toBe(true);
    expect(refused('answer', answer(new Array(limits.answerValues - 1).fill(0)))).toBe(false);
    expect(refused('answer', answer(new Array(limits.answerValues).fill(0)))).toBe(true);
    expect(refused('answer', answer(new Uint8Array(1)))).toBe(true);
  });

  it('takes a whole number that no double holds for no number at all', () => {
    expect(() => fromWire(toWire({ a: 2n ** 60n }))).toThrow('safe integer');
    expect(refused('about', { ...sound.about, more: 2n ** 60n })).toBe(true);
  });

  it('as many scales as channels', () => {
    expect(refused('about', { ...sound.about, scale: [1, 1, 1, 1] })).toBe(true);
    expect(refused('about', { ...sound.about, pairs: 2, scale: [1, 1, 1, 1] })).toBe(false);
  });
});

describe('the number of a message that is else no good', () => {
  it('is read where it is one, whatever the rest is', () => {
    fc.assert(
      fc.property(fc.nat(), fc.anything({ withBigInt: false }), (seq, rest) => {
        let payload: Uint8Array;
        try {
          payload = toWire({ seq, rest: typeof rest === 'function' ? null : rest });
          fromWire(payload);
        } catch {
          return;
        }
        expect(numberOf(payload)).toBe(seq);
      }),
    );
  });

  it('is none where it is none, or cannot be read', () => {
    for (const seq of [Number.NaN, -1, 0.5, 2 ** 49, 'one', null])
      expect(numberOf(toWire({ seq }))).toBeNull();
    for (const value of [null, 5, 'x', [], {}]) expect(numberOf(toWire(value))).toBeNull();
    expect(numberOf(Uint8Array.of(0xff))).toBeNull();
    expect(numberOf(toWire({ seq: 7, odd: 2n ** 60n }))).toBe(7);
    expect(numberOf(toWire({ seq: 2n ** 60n }))).toBeNull();
    const wave = encodeMessage('wave', sound.wave as never);
    expect(numberOf(wave)).toBe(1);
    expect(numberOf(new Uint8Array(40_000))).toBeNull();
  });
});
