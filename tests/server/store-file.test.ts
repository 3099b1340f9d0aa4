import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openDatabase } from '../../dashboard/server/store/database.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import { migrate } from '../../dashboard/server/store/schema.ts';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import type { Store } from '../../dashboard/server/store/store.ts';
import { about, batchOf, bay, block, newArc, stamp } from './given.ts';

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
