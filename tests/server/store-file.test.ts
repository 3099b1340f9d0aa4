import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { buildApp } from '../../dashboard/server/app.ts';
import { Access } from '../../dashboard/server/http/access.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor, rfc3339 } from '../../dashboard/server/live/floor.ts';
import { openDatabase } from '../../dashboard/server/store/database.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import { migrate } from '../../dashboard/server/store/schema.ts';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import type { Store } from '../../dashboard/server/store/store.ts';
import { about, batchOf, bay, block, newArc, PlainWatch, stamp } from './given.ts';

const plate = { name: 'Tern 100', phases: 1 as const, supply: [{ U1: 120, I1max: 23 }] };

let folder: string;
let store: Store;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-store-'));
  store = new MemoryStore();
});
afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true });
});

describe('SQLite file', () => {
  it('does all of a piece of work or nothing, one inside another too', () => {
    store = new SqliteStore(join(folder, 'together.sqlite'));
    const failing = () =>
      store.together(() => {
        store.plates.add(plate, stamp);
        store.together(() => store.people.add({ name: 'Ida', role: 'lead', pin: 'x' }));
        throw new Error('not now');
      });
    expect(failing).toThrow('not now');
    expect(store.plates.list()).toEqual([]);
    expect(store.people.list()).toEqual([]);
    expect(store.together(() => store.plates.add(plate, stamp)).id).toBe(1);
  });

  it('lets nobody edit or cut the audit list', () => {
    const path = join(folder, 'audit.sqlite');
    store = new SqliteStore(path);
    const entry = { atUs: 1, person: null, device: null, area: 'plates' as const };
    store.audit.add({ ...entry, subject: 'plate 1', says: 'so', before: null, after: null });
    const database = openDatabase(path);
    expect(() => database.exec("UPDATE audit SET says = 'not so'")).toThrow('never edited');
    expect(() => database.exec('DELETE FROM audit')).toThrow('never cut');
    database.close();
  });

  it('finds all again when it is opened anew', () => {
    const path = join(folder, 'again.sqlite');
    const first = new SqliteStore(path);
    first.saveAbout(bay, 'harbour-lane', about());
    first.commit(batchOf({ blocks: [block(1, 0)], arcs: [newArc(10)] }));
    first.close();
    store = new SqliteStore(path);
    expect(store.blocks(bay, 1, 0, 1)).toHaveLength(1);
    expect(store.arcs({ limit: 1 })).toHaveLength(1);
  });

  it('refuses a file that a newer version has written', () => {
    const path = join(folder, 'newer.sqlite');
    new SqliteStore(path).close();
    const database = openDatabase(path);
    database.exec('INSERT INTO schema_version VALUES (99)');
    database.close();
    expect(() => new SqliteStore(path)).toThrow('schema 99 is of a newer version');
  });

  it('takes over the feeders of a file from before they had versions', () => {
    const path = join(folder, 'older.sqlite');
    const database = openDatabase(path);
    migrate(database, path, 10);
    const feeder = { name: 'bays', volts: 240, circuits: [1] };
    const add = database.prepare('INSERT INTO feeders (id, feeder) VALUES (?, ?)');
    add.run(1, '{}');
    add.run(3, JSON.stringify(feeder));
    database.exec('DELETE FROM feeders WHERE id = 1');
    database.close();
    store = new SqliteStore(path);
    const [kept] = store.feeders.list();
    expect(kept).toMatchObject({ id: 3, version: 1, by: null, retired: false, value: feeder });
    expect(kept!.atUs).toBeGreaterThan(Date.parse('2026-01-01') * 1_000);
    expect(store.feeders.versions(3, 9, 9)).toHaveLength(1);
    const next = store.feeders.add(feeder, stamp);
    expect(next.id).toBe(4);
  });

  it('names a file that cannot be opened in one line', () => {
    expect(() => new SqliteStore(join(folder, 'no', 'such.sqlite'))).toThrow('such.sqlite:');
  });
});

describe('what is stored already, whatever it is', () => {
  /** A file with two sensors and three arcs, of which SQL has spoiled something. */
  async function spoiled(sql: string) {
    const path = join(folder, 'spoiled.sqlite');
    const first = new SqliteStore(path);
    first.saveAbout(bay, 'harbour-lane', about());
    first.saveAbout('harbour-lane.bay-2', 'harbour-lane', about());
    first.commit(batchOf({ arcs: [newArc(0), newArc(20_000), newArc(40_000)] }));
    first.close();
    const database = openDatabase(path);
    database.exec(sql);
    database.close();
    store = new SqliteStore(path);
    const floor = new Floor(store, () => 0);
    const makeWatch = (...of: ConstructorParameters<typeof PlainWatch>) => new PlainWatch(...of);
    const ingest = new Ingest({ store, floor, link: { publish() {} }, makeWatch, say() {} });
    ingest.start();
    const parts = { store, floor, ingest, access: new Access(false) };
    const app = await buildApp({ ...parts, version: '0', webRoot: 'no-such-folder' });
    const got = async (url: string) => {
      const answer = await app.inject(url);
      return { status: answer.statusCode, is: answer.json() };
    };
    const heard: string[] = [];
    const send = (data: Uint8Array | string) => void heard.push(String(data));
    floor.hub.enter({ bufferedAmount: 0, send, close() {}, terminate() {} });
    const sensors = await got('/api/v1/sensors');
    const arcs = await got('/api/v1/arcs');
    const ready = await got('/readyz');
    ingest.stop();
    await app.close();
    return { sensors, arcs, ready, heard };
  }

  it.each([
    ['words that are no JSON', "UPDATE boots SET about = '{' WHERE sensor = 1", 1, 3],
    ['words without a rate', `UPDATE boots SET about = '{"pairs":1}' WHERE sensor = 1`, 1, 3],
    ['an arc that is no JSON', 'UPDATE arcs SET detail = \'{"arc"\' WHERE id = 3', 2, 3],
    ['an arc of which nothing is told', "UPDATE arcs SET detail = '{}' WHERE id = 2", 2, 2],
    [
      'an arc whose figures are null',
      `UPDATE arcs SET detail = replace(detail, '"durationS":1', '"durationS":null')`,
      2,
      3,
    ],
    ['an arc beyond all time', `UPDATE arcs SET started_us = ${2 ** 62}, ended_us = -5`, 2, 3],
  ])('%s keeps neither start, sensors, arcs nor page', async (_, sql, sensors, arcs) => {
    const found = await spoiled(sql);
    expect(found.ready).toEqual({ status: 200, is: { ready: true } });
    expect(found.sensors.status).toBe(200);
    expect(found.sensors.is).toHaveLength(sensors);
    expect(found.arcs.status).toBe(200);
    expect(found.arcs.is.arcs).toHaveLength(arcs);
    expect(found.heard).toHaveLength(1);
    expect(JSON.parse(found.heard[0]!)).toMatchObject({ kind: 'hello' });
  });

  it('tells every time as one that can be written', async () => {
    const { arcs } = await spoiled(`UPDATE arcs SET started_us = ${2 ** 62}, ended_us = -5`);
    expect(arcs.is.arcs[0]).toMatchObject({
      ...{ startedAt: '9999-12-31T23:59:59.999Z', endedAt: '1970-01-01T00:00:00.000Z' },
    });
    for (const micros of [Number.NaN, Number.NEGATIVE_INFINITY, -1])
      expect(rfc3339(micros)).toBe('1970-01-01T00:00:00.000Z');
    expect(rfc3339(1e308)).toBe('9999-12-31T23:59:59.999Z');
    expect(rfc3339(1_764_000_000_123_000)).toBe('2025-11-24T16:00:00.123Z');
  });

  it('proves nothing of an arc that cannot be read', async () => {
    const { arcs } = await spoiled("UPDATE arcs SET detail = 'x' WHERE id = 3");
    expect(arcs.is.arcs[0]).toMatchObject({ id: 3, verdict: 'unproven', durationS: 0 });
  });
});
