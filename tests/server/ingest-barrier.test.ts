import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import type { MakeWatch } from '../../dashboard/server/ingest/watching.ts';
import { limits } from '../../dashboard/server/limits.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { Batch } from '../../dashboard/server/store/store.ts';
import { encodeMessage, type Wave } from '../../shared/protocol/messages.ts';
import { toWire } from '../../shared/protocol/wire.ts';
import { type Loose, sound } from '../attack/hostile.ts';
import { about, bay, PlainWatch, state, wave } from './given.ts';

const other = 'harbour-lane.bay-2';
const topic = (kind: string, sensor = 'bay-1') => `stiffline/v1/harbour-lane/${sensor}/${kind}`;
let store: MemoryStore;
let floor: Floor;
let ingest: Ingest;
/** Every `keep`, by sensor. */
let kept: Record<string, number[]>;
let said: string[];

/** A watch that fails at a block that begins with this count. */
const poison = 13;
const makeWatch: MakeWatch = (setup, events) => {
  const plain = new PlainWatch(setup, events);
  return {
    push(channels, frames) {
      if (Math.round(channels[0]![0]! / 0.01) === poison) throw new RangeError('no such cycle');
      plain.push(channels, frames);
    },
    skip: (frames) => plain.skip(frames),
    welds: (welding) => plain.welds(welding),
    end: () => plain.end(),
  };
};

function start(): void {
  floor = new Floor(store);
  kept = {};
  said = [];
  ingest = new Ingest({
    ...{ store, floor, makeWatch, say: (line) => said.push(line), clock: () => 5_000 },
    link: {
      publish: (at, payload) => {
        const sensor = at.split('/').at(-2)!;
        (kept[sensor] ??= []).push(payload.at(-1)! & 0xff);
      },
    },
  });
  ingest.start();
}
const greet = (sensor = 'bay-1') =>
  ingest.receive(topic('about', sensor), encodeMessage('about', about()));
const send = (...waves: Wave[]) => {
  for (const one of waves) ingest.receive(topic('wave'), encodeMessage('wave', one));
};
const raw = (kind: string, message: Loose) => ingest.receive(topic(kind), toWire(message));
const seqs = () => store.blocks(bay, 1, 0, 1e9).map(({ seq }) => seq);
const aside = () => store.quarantine.list(99).map(({ kind, seq }) => [kind, seq]);

beforeEach(() => {
  vi.useFakeTimers();
  store = new MemoryStore();
  start();
  greet();
});
afterEach(() => {
  ingest.stop();
  vi.useRealTimers();
});

describe('a numbered message that is no good', () => {
  it('is put aside under its number, and what comes after it need not wait', () => {
    send(wave(1, 0));
    raw('wave', { ...wave(2, 1024), time: Number.NaN });
    raw('arc', { ...sound.arc, seq: 3, sample: Number.POSITIVE_INFINITY });
    send(wave(4, 3072));
    ingest.flush();
    expect(seqs()).toEqual([1, 4]);
    expect(kept['bay-1']).toEqual([4]);
    expect(aside()).toEqual([
      ['arc', 3],
      ['wave', 2],
    ]);
    expect(store.quarantine.list(1)[0]).toMatchObject({ sensor: bay, atUs: 5e6 });
    expect(store.quarantine.list(1)[0]!.reason).toContain('/sample');
    expect(ingest.counts.quarantined).toBe(2);
  });

  it('leaves a hole that the judge takes for lost, not for quiet', () => {
    const skips: string[] = [];
    ingest.stop();
    ingest = new Ingest({
      ...{ store, floor, say: () => {}, link: { publish: () => {} } },
      makeWatch: () => ({
        skip: (frames, why) => skips.push(`${frames} ${why}`),
        ...{ push: () => {}, welds: () => {}, end: () => {} },
      }),
    });
    ingest.start();
    greet();
    send(wave(1, 0));
    raw('wave', { ...wave(2, 1024), n: 0 });
    send(wave(3, 2048));
    expect(skips).toEqual(['1024 lost']);
  });

  it('is put aside once, however often it is sent, and waits for those before it', () => {
    const bad = { ...wave(2, 1024), flags: -1 };
    raw('wave', bad);
    raw('wave', bad);
    ingest.flush();
    expect(kept['bay-1']).toEqual([0]);
    send(wave(1, 0));
    raw('wave', bad);
    ingest.flush();
    expect(kept['bay-1']).toEqual([0, 2]);
    expect(aside()).toEqual([['wave', 2]]);
  });

  it('of which the number cannot be read is counted and dropped', () => {
    raw('wave', { ...wave(2, 1024), seq: Number.NaN });
    raw('wave', { ...wave(2, 1024), seq: 2 ** 50 });
    ingest.receive(topic('wave'), Uint8Array.of(0xff));
    ingest.flush();
    expect(aside()).toEqual([]);
    expect(ingest.counts.faults).toEqual({ 'wrong-shape': 2, 'no-cbor': 1 });
  });

  it('may have other channels than the sensor said: its counts mean nothing', () => {
    send(wave(1, 0), wave(2, 1024, { data: new Int16Array(4096) }), wave(3, 2048));
    ingest.flush();
    expect(seqs()).toEqual([1, 3]);
    expect(aside()).toEqual([['wave', 2]]);
    expect(kept['bay-1']).toEqual([3]);
  });
});

describe('the barrier', () => {
  it('puts aside a block that the judge fails at, and judges what comes after it', () => {
    const data = new Int16Array(2048).fill(poison);
    send(wave(1, 0), wave(2, 1024, { data }), wave(3, 2048), wave(4, 3072));
    send(wave(5, 4096, { data: new Int16Array(2048) }));
    ingest.flush();
    expect(seqs()).toEqual([1, 3, 4, 5]);
    expect(aside()).toEqual([['wave', 2]]);
    expect(store.quarantine.list(1)[0]!.reason).toBe('no such cycle');
    expect(kept['bay-1']).toEqual([5]);
    expect(store.arcs({ limit: 9 }).map(({ start, end }) => [start, end])).toEqual([[2048, 4096]]);
    expect(ingest.counts.faults).toEqual({ threw: 1 });
    expect(said.at(-1)).toBe(`${bay}: wave: no such cycle`);
  });

  it('judges anew after a watch that failed at a rest, or told an arc without an end', () => {
    let watches = 0;
    const failing: { skip: string; end: number | null } = { skip: '', end: Number.NaN };
    ingest.stop();
    ingest = new Ingest({
      ...{ store, floor, say: () => {}, link: { publish: () => {} } },
      makeWatch: (setup, events) => {
        watches++;
        const plain = new PlainWatch(setup, {
          ...events,
          arcEnded: (arc) => events.arcEnded?.({ ...arc, end: failing.end ?? arc.end }),
        });
        return {
          push: (...given) => plain.push(...given),
          ...{ welds: () => {}, end: () => plain.end() },
          skip: (frames, why) => {
            if (failing.skip === why) throw new Error('no rest');
            plain.skip(frames);
          },
        };
      },
    });
    ingest.start();
    greet();
    const still = (seq: number) => wave(seq, 1024 * seq, { data: new Int16Array(2048) });
    send(wave(1, 1024), still(2), wave(3, 3072));
    ingest.flush();
    expect(watches).toBe(2);
    expect(aside()).toEqual([['wave', 2]]);
    failing.end = null;
    failing.skip = 'quiet';
    const online = state({ newest: 3, sample: 200_000 });
    ingest.receive(topic('state'), encodeMessage('state', online));
    expect(ingest.counts.faults.threw).toBe(2);
    failing.skip = '';
    send(wave(4, 4096), still(5));
    ingest.flush();
    expect(watches).toBe(3);
    expect(store.arcs({ limit: 9 }).map(({ start, end }) => [start, end])).toEqual([[4096, 5120]]);
    expect(seqs()).toEqual([1, 3, 4, 5]);
  });

  it('refuses rows that reach over more time than any board holds back', () => {
    const reach = (s: number) => ({ ...sound.rows, end: Float64Array.of(1, 2, 3, 3 + s * 10_240) });
    raw('rows', reach(599));
    expect(ingest.counts.faults).toEqual({});
    raw('rows', reach(601));
    expect(ingest.counts.faults).toEqual({ 'wrong-shape': 1 });
    ingest.flush();
    expect(store.history(bay, 0, 4e12, 1e12)).toHaveLength(1);
  });

  it('takes a stored stream up past a block that the judge fails at', () => {
    ingest.flush();
    const data = new Int16Array(2048).fill(poison);
    const stored = [wave(1, 0), wave(2, 1024, { data }), wave(3, 2048)];
    const blocks = stored.map(({ v: _, ...block }) => ({ sensor: bay, ...block }));
    const cursor = { sensor: bay, kept: 3, settledBoot: 1, settledSample: 0 };
    store.commit({
      ...{ blocks, cursors: [cursor], rows: [], seconds: [], arcs: [], sags: [], supplies: [] },
      ...{ otherLoads: [], quarantined: [] },
    });
    start();
    expect(ingest.counts.faults).toEqual({ threw: 1 });
    send(wave(4, 3072, { data: new Int16Array(2048) }));
    ingest.flush();
    expect(kept['bay-1']).toEqual([3, 4]);
    expect(store.arcs({ limit: 9 }).map(({ start }) => start)).toEqual([2048]);
    expect(seqs()).toEqual([1, 2, 3, 4]);
  });

  it('lets one sensor start though another is stored as it cannot be', () => {
    greet('bay-2');
    ingest.flush();
    const sensors = store.sensors.bind(store);
    store.sensors = () =>
      sensors().map((record) =>
        record.sensor === bay
          ? { ...record, about: { ...record.about, rate: Number.NaN } }
          : record,
      );
    start();
    expect(floor.sensors().map(({ id }) => id)).toEqual([other]);
    store.sensors = sensors;
    greet();
    expect(floor.sensors().map(({ id }) => id)).toEqual([other, bay]);
  });

  it('keeps what is stored apart from what is told: a live feed that fails costs nothing', () => {
    const fails = () => {
      throw new Error('no page');
    };
    Object.assign(floor, { rows: fails, state: fails, arcBegan: fails, arcGoesOn: fails });
    Object.assign(floor, { arcEnded: fails, supplied: fails, stored: fails, weldingAt: fails });
    send(wave(1, 0), wave(2, 1024, { data: new Int16Array(2048) }));
    raw('rows', sound.rows);
    ingest.receive(topic('state'), encodeMessage('state', state({ newest: 2 })));
    ingest.flush();
    expect(seqs()).toEqual([1, 2]);
    expect(store.arcs({ limit: 9 })).toHaveLength(1);
    expect(store.history(bay, 0, 4e12, 1e12)).toHaveLength(1);
    expect(kept['bay-1']).toEqual([2]);
    expect(aside()).toEqual([]);
    expect(ingest.counts.faults.threw).toBeGreaterThanOrEqual(7);
  });

  it('holds against what the store throws at a sensor’s words, and against any payload', () => {
    store.saveAbout = () => {
      throw new TypeError('Do not know how to serialize a BigInt');
    };
    expect(() => greet('bay-3')).not.toThrow();
    for (const payload of [undefined, null, 'text', 7])
      expect(() => ingest.receive(topic('wave'), payload as never)).not.toThrow();
    expect(ingest.ready).toBe(true);
    expect(ingest.counts.bytes).toBeGreaterThan(0);
    expect(ingest.counts.faults).toEqual({ threw: 1, 'no-cbor': 4 });
  });
});

describe('a record that the store refuses among others', () => {
  /** The store takes no such record, and all else. */
  const refuse = (such: (batch: Batch) => boolean) => {
    for (const name of ['commit', 'rehearse'] as const) {
      const real = store[name].bind(store);
      Object.assign(store, {
        [name]: (batch: Batch) => {
          if (such(batch)) throw new RangeError('no such number');
          return real(batch);
        },
      });
    }
  };

  it('is put aside, said and counted; its sensor is told that it need not send it again', () => {
    refuse(({ blocks }) => blocks.some(({ seq }) => seq === 2));
    send(wave(1, 0), wave(2, 1024), wave(3, 2048));
    ingest.flush();
    expect(seqs()).toEqual([1, 3]);
    expect(kept['bay-1']).toEqual([3]);
    expect(aside()).toEqual([['block', 2]]);
    expect(said).toEqual([`${bay}: block, number 2, was put aside: no such number`]);
    expect(ingest.counts.quarantined).toBe(1);
    expect(ingest.counts.faults).toEqual({ commit: 1 });
    expect(ingest.ready).toBe(true);
  });

  it('may be where a stream stands: that sensor is told nothing, the others all', () => {
    greet('bay-2');
    refuse(({ cursors }) => cursors.some(({ sensor, kept }) => sensor === bay && kept === 1));
    send(wave(1, 0));
    ingest.flush();
    expect(kept['bay-1']).toBeUndefined();
    expect(kept['bay-2']).toEqual([0]);
    send(wave(2, 1024));
    ingest.flush();
    expect(kept['bay-1']).toEqual([2]);
  });
});

describe('a store that takes nothing', () => {
  const full = Object.assign(new Error('database or disk is full'), { code: 'SQLITE_FULL' });

  it('is tried again, each time later, until it takes all; nothing is put aside', () => {
    const { commit } = store;
    let tries = 0;
    store.commit = () => {
      tries++;
      throw full;
    };
    send(wave(1, 0), wave(2, 1024));
    vi.advanceTimersByTime(limits.commitAfterMs);
    expect(ingest.notReady).toBe('nothing is being stored: database or disk is full');
    expect(tries).toBe(1);
    const waits = [1, 2, 4, 8, 16, 30, 30].map((s) => s * 1_000);
    for (const [at, wait] of waits.entries()) {
      vi.advanceTimersByTime(wait - 1);
      expect(tries, `${at}`).toBe(1 + at);
      vi.advanceTimersByTime(1);
      expect(tries, `${at}`).toBe(2 + at);
    }
    expect(said).toEqual(['not stored: database or disk is full']);
    expect(kept['bay-1']).toBeUndefined();
    store.commit = commit;
    vi.advanceTimersByTime(limits.commitRetryMostMs);
    expect(ingest.notReady).toBeNull();
    expect(kept['bay-1']).toEqual([2]);
    expect(aside()).toEqual([]);
    expect(said).toEqual([
      'not stored: database or disk is full',
      'stored again: the store takes what comes',
    ]);
    store.commit = () => {
      throw full;
    };
    send(wave(3, 2048));
    vi.advanceTimersByTime(limits.commitAfterMs);
    store.commit = commit;
    vi.advanceTimersByTime(limits.commitRetryMs);
    expect(kept['bay-1']).toEqual([2, 3]);
  });

  it('is not blamed on the message that met it; a newcomer’s words are kept for it', () => {
    const { saveAbout } = store;
    store.saveAbout = () => {
      throw full;
    };
    greet('bay-2');
    expect(ingest.notReady).toContain('disk is full');
    expect(ingest.counts.faults).toEqual({ store: 2 });
    store.saveAbout = saveAbout;
    vi.advanceTimersByTime(limits.commitRetryMs);
    expect(ingest.notReady).toBeNull();
    expect(floor.sensor(other)).not.toBeNull();
    expect(kept['bay-2']).toEqual([0]);
  });

  it('does not put a block aside whose boot it cannot note', () => {
    store.saveBoot = () => {
      throw full;
    };
    send(wave(1, 0, { boot: 2 }), wave(2, 1024, { boot: 2, data: new Int16Array(2048) }));
    ingest.flush();
    expect(aside()).toEqual([]);
    expect(store.arcs({ limit: 9 })).toHaveLength(1);
  });

  it('holds no more history in memory than is bounded', () => {
    store.commit = () => {
      throw full;
    };
    for (let n = 0; n < limits.pendingSeconds + 3; n++) raw('rows', sound.rows);
    expect(ingest.counts.faults.full).toBe(3);
  });
});
