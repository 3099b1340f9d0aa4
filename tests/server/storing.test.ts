import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { storeBatch } from '../../dashboard/server/ingest/storing.ts';
import { limits } from '../../dashboard/server/limits.ts';
import { openDatabase } from '../../dashboard/server/store/database.ts';
import type { Quarantined } from '../../dashboard/server/store/quarantine.ts';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import type { Batch, Second } from '../../dashboard/server/store/store.ts';
import { isStoreFault } from '../../dashboard/server/store/store-fault.ts';
import { fromWire } from '../../shared/protocol/wire.ts';
import { forBothStores } from './both-stores.ts';
import { about, batchOf, bay, block, newArc } from './given.ts';

const second = (timeMs: number, hertz = 60): Second => ({
  ...{ sensor: bay, timeMs, hertz, voltsMin: [119], voltsMax: [121], ampsMin: [0], ampsMax: [1] },
});
const cursor = { sensor: bay, kept: 9, settledBoot: 1, settledSample: 512 };

let folder: string;
let path: string;
let store: SqliteStore;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-storing-'));
  path = join(folder, 'test.sqlite');
  store = new SqliteStore(path);
  store.saveAbout(bay, 'harbour-lane', about());
});
afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true });
});

const storeIt = (batch: Partial<Batch>) => storeBatch(store, batchOf(batch), 1e15);
const buckets = () => store.history(bay, 0, 1e6, 1_000).map(({ index }) => index);

describe('a batch of which some cannot be stored', () => {
  it.each([
    ['none', []],
    ['the first', [0]],
    ['the last', [9]],
    ['two', [4, 5]],
    ['many', [0, 2, 4, 6, 8, 9]],
    ['all', [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]],
  ])('puts %s aside and stores the rest, arcs and cursor with it', (_, bad) => {
    const seconds = Array.from({ length: 10 }, (_, at) =>
      second(at * 1_000, bad.includes(at) ? Number.NaN : 60),
    );
    const stored = storeIt({
      seconds,
      arcs: [newArc(0)],
      blocks: [block(1, 0)],
      cursors: [cursor],
    });
    expect(stored).toMatchObject({ arcs: [{ id: 1 }] });
    expect(buckets()).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9].filter((at) => !bad.includes(at)));
    expect(store.blocks(bay, 1, 0, 9_999)).toHaveLength(1);
    expect(store.sensors()[0]).toMatchObject({ kept: 9, settledSample: 512 });
    expect(store.quarantine.count()).toBe(bad.length);
    const kept = store.quarantine.list(99).reverse();
    for (const [n, at] of bad.entries()) {
      expect(kept[n]).toMatchObject({ sensor: bay, kind: 'second', seq: null, atUs: 1e15 });
      expect(kept[n]!.reason).toMatch(/NOT NULL/);
      expect(fromWire(kept[n]!.bytes)).toMatchObject({ timeMs: at * 1_000, hertz: Number.NaN });
    }
  });

  it('keeps what was put aside before as well', () => {
    const before = { sensor: bay, kind: 'wave', boot: null, seq: 4, atUs: 1, reason: 'so' };
    const quarantined = [{ ...before, bytes: new Uint8Array(1) }];
    storeIt({ quarantined, seconds: [second(0, Number.NaN)] });
    expect(store.quarantine.list(9).map(({ kind }) => kind)).toEqual(['second', 'wave']);
  });

  it('names a block by its number, and tells an arc from a cursor', () => {
    const stored = storeIt({
      blocks: [block(1, 0), block(2, 1024, { time: Number.NaN }), block(3, 2048)],
      arcs: [{ ...newArc(0), startedUs: Number.NaN }, newArc(20_000)],
      cursors: [{ ...cursor, settledSample: Number.NaN }],
    });
    expect(stored).toMatchObject({
      arcs: [{ start: 20_000 }],
      aside: [
        { sensor: bay, kind: 'block', boot: 1, seq: 2 },
        { sensor: bay, kind: 'judged-arc', boot: 1, seq: null },
        { sensor: bay, kind: 'cursor', boot: null, seq: null },
      ],
    });
    expect(store.blocks(bay, 1, 0, 9_999).map(({ seq }) => seq)).toEqual([1, 3]);
    expect(store.sensors()[0]).toMatchObject({ kept: 0 });
  });
});

describe('a store that takes nothing', () => {
  const reopened = () => {
    store.close();
    store = new SqliteStore(path);
  };
  it('is told from a bad record where another, known to be sound, fails as well', () => {
    const database = openDatabase(path);
    database.exec('ALTER TABLE seconds ADD COLUMN never REAL NOT NULL CHECK (never > 0) DEFAULT 1');
    database.exec(
      `CREATE TRIGGER no_seconds BEFORE INSERT ON seconds
       BEGIN SELECT raise(ABORT, 'nothing goes in here'); END`,
    );
    database.close();
    reopened();
    const stored = storeIt({ seconds: [second(0), second(1_000)], blocks: [block(1, 0)] });
    expect(stored).toEqual({ broken: 'nothing goes in here' });
    expect(store.quarantine.count()).toBe(0);
    expect(store.blocks(bay, 1, 0, 9_999)).toEqual([]);
  });

  it('is told where all records hold by themselves and their commit does not', () => {
    const { commit } = store;
    store.commit = () => {
      throw new Error('no room is left');
    };
    const seconds = [second(0), second(1_000)];
    expect(storeIt({ seconds })).toEqual({ broken: 'no room is left' });
    store.commit = commit;
    expect(store.quarantine.count()).toBe(0);
    expect(storeIt({ seconds })).toEqual({ arcs: [], aside: [] });
    expect(buckets()).toEqual([0, 1]);
  });

  it('keeps nothing of a batch with a bad record where what is put aside has no room', () => {
    const { commit } = store;
    store.commit = (batch) => {
      if (batch.quarantined.length > 0) throw new Error('no room is left');
      return commit.call(store, batch);
    };
    const stored = storeIt({ seconds: [second(0, Number.NaN), second(1_000)] });
    expect(stored).toEqual({ broken: 'no room is left' });
    expect(buckets()).toEqual([]);
  });

  it('says so by its own codes: full, and written by somebody else', () => {
    const database = openDatabase(path);
    database.exec('CREATE TABLE fills (bytes BLOB) STRICT; PRAGMA max_page_count = 1');
    const caught = (work: () => void): unknown => {
      try {
        work();
      } catch (error) {
        return error;
      }
      throw new Error('it held');
    };
    const fill = database.prepare('INSERT INTO fills VALUES (?)');
    const full = caught(() => {
      for (let n = 0; n < 100; n++) fill.run(new Uint8Array(1e6));
    });
    expect((full as Error).message).toMatch(/full/);
    expect(isStoreFault(full)).toBe(true);
    database.exec('PRAGMA query_only = 1');
    expect(isStoreFault(caught(() => fill.run(new Uint8Array(1))))).toBe(true);
    const odd = caught(() => store.commit(batchOf({ seconds: [second(0, Number.NaN)] })));
    expect(isStoreFault(odd)).toBe(false);
    expect(isStoreFault(new RangeError('no number'))).toBe(false);
    database.close();
    expect(isStoreFault(caught(() => database.exec('SELECT 1')))).toBe(true);
  });

  it('knows both tongues of SQLite', () => {
    const said = (more: object) => Object.assign(new Error('x'), more);
    expect(isStoreFault(said({ code: 'ERR_SQLITE_ERROR', errcode: 13 }))).toBe(true);
    expect(isStoreFault(said({ code: 'ERR_SQLITE_ERROR', errcode: 10 | (3 << 8) }))).toBe(true);
    expect(isStoreFault(said({ code: 'ERR_SQLITE_ERROR', errcode: 1299 }))).toBe(false);
    expect(isStoreFault(said({ code: 'SQLITE_IOERR_WRITE' }))).toBe(true);
    expect(isStoreFault(said({ code: 'SQLITE_CONSTRAINT_NOTNULL' }))).toBe(false);
    expect(isStoreFault(said({ code: 'SQLITE_FULLER' }))).toBe(false);
  });
});

forBothStores((either) => {
  const put = (seq: number, more: Partial<Quarantined> = {}): Quarantined => ({
    ...{ sensor: bay, kind: 'wave', boot: 1, seq, atUs: seq, reason: 'so' },
    ...{ bytes: Uint8Array.of(seq & 0xff), ...more },
  });

  it('lists what was put aside, newest first, as it came', () => {
    const long = new Uint8Array(limits.quarantineBytes + 9).fill(7);
    either().commit(batchOf({ quarantined: [put(1, { boot: null, seq: null }), put(2)] }));
    either().commit(batchOf({ quarantined: [put(3, { bytes: long })] }));
    expect(either().quarantine.list(2)).toEqual([
      put(3, { bytes: long.slice(0, limits.quarantineBytes) }),
      put(2),
    ]);
    expect(either().quarantine.list(9)).toHaveLength(3);
    expect(either().quarantine.count()).toBe(3);
  });

  it('bounds it: a sensor pushes out its own oldest, and all together the oldest of all', () => {
    const { quarantined: most, quarantinedOfSensor: own } = limits;
    const many = (sensor: string, count: number) =>
      Array.from({ length: count }, (_, seq) => put(seq, { sensor }));
    either().commit(batchOf({ quarantined: [put(7_777)] }));
    for (let n = 0; n < most / own; n++) {
      const sensor = `harbour-lane.bay-${n + 10}`;
      either().saveAbout(sensor, 'harbour-lane', about());
      either().commit(batchOf({ quarantined: many(sensor, own + 5) }));
      const kept = either()
        .quarantine.list(most)
        .filter((record) => record.sensor === sensor);
      expect(kept.map(({ seq }) => seq)).toEqual(
        Array.from({ length: own }, (_, at) => own + 4 - at),
      );
    }
    expect(either().quarantine.count()).toBe(most);
    expect(
      either()
        .quarantine.list(most)
        .some(({ seq }) => seq === 7_777),
    ).toBe(false);
  });

  it('rehearses a batch and keeps nothing of it', () => {
    either().rehearse(batchOf({ blocks: [block(1, 0)], arcs: [newArc(0)] }));
    expect(either().blocks(bay, 1, 0, 9_999)).toEqual([]);
    expect(either().arcs({ limit: 9 })).toEqual([]);
    expect(() =>
      either().rehearse(batchOf({ blocks: [block(1, 0, { sensor: 'no.one' })] })),
    ).toThrow();
    either().commit(batchOf({ arcs: [newArc(0)] }));
    expect(either().arcs({ limit: 9 })).toHaveLength(1);
  });
});
