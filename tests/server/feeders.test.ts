import { rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import type { Store } from '../../dashboard/server/store/store.ts';
import type { Problem } from '../../shared/protocol/http.ts';
import { buildServer } from './built.ts';
import { about, bay } from './given.ts';

const feeder = { name: 'bays', volts: 240, breakerAmps: 100, circuits: [1, 2] };
const stamp = { atUs: 0, by: null };
const path = join(tmpdir(), `stiffline-feeders-${process.pid}.sqlite`);
afterAll(() => rmSync(path, { force: true }));

describe.each([
  ['memory', () => new MemoryStore()],
  ['SQLite', () => new SqliteStore(path)],
] as [string, () => Store][])('feeders in %s', (_, open) => {
  it('are added, changed, taken away, and a number is never given twice', () => {
    const store = open();
    const first = store.feeders.add(feeder);
    expect(store.feeders.list()).toEqual([{ id: first.id, feeder }]);
    expect(store.feeders.set(first.id, { ...feeder, volts: 208 })).toBe(true);
    expect(store.feeders.set(first.id + 9, feeder)).toBe(false);
    expect(store.feeders.list()[0]!.feeder.volts).toBe(208);
    expect(store.feeders.remove(first.id)).toBe(true);
    expect(store.feeders.remove(first.id)).toBe(false);
    expect(store.feeders.add(feeder).id).toBeGreaterThan(first.id);
    store.close();
  });
});

describe('feeders over HTTP', () => {
  let app: FastifyInstance;
  let store: MemoryStore;
  beforeEach(async () => {
    ({ app, store } = await buildServer());
    for (const name of ['bay 1', 'bay 2', 'bay 3']) store.circuits.add({ name, volts: 240 }, stamp);
  });
  const ask = async <T = Problem>(
    method: 'GET' | 'POST' | 'PUT' | 'DELETE',
    url: string,
    of?: object,
  ) => {
    const answer = await app.inject({
      method,
      url: `/api/v1${url}`,
      ...(of ? { payload: of } : {}),
    });
    return { status: answer.statusCode, is: (answer.body ? answer.json() : null) as T };
  };

  it('are kept by the numbers of their circuits and named to plans', async () => {
    expect(await ask('POST', '/feeders', feeder)).toEqual({ status: 201, is: { id: 1, feeder } });
    expect((await ask('GET', '/feeders')).is).toEqual([{ id: 1, feeder }]);
    store.circuits.set(2, { name: 'bay two', volts: 240 }, stamp);
    const named = [{ ...feeder, circuits: ['bay 1', 'bay two'] }];
    expect((await ask('GET', '/plan/feeders')).is).toEqual(named);
    expect((await ask('PUT', '/feeders/1', { ...feeder, circuits: [3] })).status).toBe(200);
    expect((await ask('DELETE', '/feeders/1')).status).toBe(204);
    expect((await ask('DELETE', '/feeders/1')).status).toBe(404);
    expect((await ask('PUT', '/feeders/1', feeder)).status).toBe(404);
    expect(store.audit.list({ limit: 9 }).map(({ says }) => says)).toEqual([
      'took away feeder "bays"',
      expect.stringContaining('changed feeder "bays": circuits[0] 1 → 3'),
      'added feeder "bays"',
    ]);
  });

  it.each([
    ['an unknown key', { colour: 1 }, 'colour is not a known key'],
    ['no such circuit', { circuits: [1, 9] }, 'circuits[1] is 9'],
    ['two sizes', { conductor: { awg: 2, mm2: 35 } }, 'conductor has two sizes'],
  ])('%s is refused by path and nothing is kept', async (_, change, says) => {
    const refused = await ask('POST', '/feeders', { ...feeder, ...change });
    expect(refused.status).toBe(400);
    expect(refused.is.detail).toContain(says);
    expect(store.feeders.list()).toEqual([]);
  });

  it('a circuit hangs on one feeder', async () => {
    await ask('POST', '/feeders', feeder);
    const other = { ...feeder, name: 'yard', circuits: [2] };
    expect((await ask('POST', '/feeders', other)).is.detail).toContain('hangs on "bays" already');
    expect((await ask('POST', '/feeders', { ...other, circuits: [3] })).status).toBe(201);
  });

  it('a circuit of a feeder is not retired', async () => {
    await ask('POST', '/feeders', feeder);
    const retired = await ask('PUT', '/circuits/2/retirement', { retired: true });
    expect(retired).toMatchObject({ status: 409, is: { code: 'in-use' } });
    expect(retired.is.detail).toContain('feeder "bays"');
    expect((await ask('PUT', '/circuits/3/retirement', { retired: true })).status).toBe(200);
  });

  it('what hangs on a feeder now is what its sensors say', async () => {
    store.saveAbout(bay, 'harbour-lane', about());
    const plate = { name: 'Tern 220', phases: 1 as const, supply: [{ U1: 240, I1max: 30 }] };
    store.plates.add(plate, stamp);
    store.assign(bay, 1, 1);
    await ask('POST', '/feeders', { ...feeder, conductor: { awg: 8, feet: 50 } });
    expect((await ask('GET', '/feeders/loads')).is).toMatchObject([
      { feeder: 'bays', machines: ['Tern 220'], groupAmps: 30, carriesAmps: 40 },
    ]);
  });

  it('a plan takes feeders beside its lists', async () => {
    const body = {
      machines: [
        {
          ...{ name: 'Tern 220', phases: 1, supply: [{ U1: 240, I1max: 30 }] },
          ...{ processes: ['mig-steel'], owned: true },
        },
      ],
      circuits: [{ name: 'bay 1', volts: 240 }],
      needs: [],
      feeders: [{ ...feeder, circuits: ['bay 1'] }],
    };
    expect((await ask('POST', '/plan', body)).is).toMatchObject({
      feeders: [{ feeder: 'bays', machines: ['Tern 220'] }],
    });
    const wrong = { ...body, feeders: [feeder] };
    expect((await ask('POST', '/plan', wrong)).is.detail).toContain('feeders[0].circuits[0]');
    const { feeders: _, ...without } = body;
    expect((await ask('POST', '/plan', without)).is).toMatchObject({ feeders: [] });
  });
});
