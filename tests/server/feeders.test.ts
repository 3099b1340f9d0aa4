import type { FastifyInstance } from 'fastify';
import { beforeEach, describe, expect, it } from 'vitest';
import type { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { Problem } from '../../shared/protocol/http.ts';
import type { FeederVersions } from '../../shared/protocol/http-plan.ts';
import { buildServer } from './built.ts';
import { about, bay } from './given.ts';

const feeder = { name: 'bays', volts: 240, breakerAmps: 100, circuits: [1, 2] };
const stamp = { atUs: 0, by: null };
describe('feeders over HTTP', () => {
  let app: FastifyInstance;
  let store: MemoryStore;
  beforeEach(async () => {
    ({ app, store } = await buildServer());
    for (const name of ['bay 1', 'bay 2', 'bay 3']) store.circuits.add({ name, volts: 240 }, stamp);
  });
  const ask = async <T = Problem>(method: 'GET' | 'POST' | 'PUT', url: string, of?: object) => {
    const answer = await app.inject({
      method,
      url: `/api/v1${url}`,
      ...(of ? { payload: of } : {}),
    });
    return { status: answer.statusCode, is: (answer.body ? answer.json() : null) as T };
  };

  const told = () => store.audit.list({ limit: 20 }).map(({ says }) => says);

  it('are kept by the numbers of their circuits and named to plans', async () => {
    const stored = { id: 1, feeder, version: 1, changedBy: null, retired: false };
    const made = await ask('POST', '/feeders', feeder);
    expect(made).toMatchObject({ status: 201, is: stored });
    expect((await ask('GET', '/feeders')).is).toEqual([made.is]);
    store.circuits.set(2, { name: 'bay two', volts: 240 }, stamp);
    const named = [{ ...feeder, circuits: ['bay 1', 'bay two'] }];
    expect((await ask('GET', '/plan/feeders')).is).toEqual(named);
    const moved = { ...feeder, circuits: [3] };
    expect((await ask('PUT', '/feeders/1?version=1', moved)).is).toMatchObject({ version: 2 });
    expect((await ask('PUT', '/feeders/2?version=1', feeder)).status).toBe(404);
    expect(told()).toEqual([
      'changed feeder "bays": circuits "bay 1; bay two" → "bay 3"',
      'added feeder "bays"',
    ]);
  });

  it('are not overwritten unseen, and every version can be brought back', async () => {
    await ask('POST', '/feeders', feeder);
    await ask('PUT', '/feeders/1?version=1', { ...feeder, volts: 208 });
    const late = await ask('PUT', '/feeders/1?version=1', { ...feeder, atOnce: 1 });
    expect(late).toMatchObject({ status: 409, is: { code: 'changed-meanwhile' } });
    expect(late.is.detail).toContain('it is at version 2');
    expect(store.feeders.one(1)!.value).toEqual({ ...feeder, volts: 208 });
    await ask('PUT', '/feeders/1?version=2', feeder);
    const { is } = await ask<FeederVersions>('GET', '/feeders/1/versions');
    expect(is.versions.map((each) => [each.version, each.feeder.volts])).toEqual([
      [3, 240],
      [2, 208],
      [1, 240],
    ]);
    expect(is.next).toBeNull();
    expect((await ask('GET', '/feeders/9/versions')).status).toBe(404);
  });

  it('retired, one gives its circuits free, and is taken back only while they are', async () => {
    await ask('POST', '/feeders', feeder);
    expect((await ask('PUT', '/feeders/1/retirement', { retired: true })).status).toBe(200);
    for (const of of ['/feeders', '/plan/feeders', '/feeders/loads'])
      expect((await ask('GET', of)).is).toEqual([]);
    expect((await ask('GET', '/feeders?retired=true')).is).toMatchObject([{ retired: true }]);
    expect((await ask('POST', '/feeders', { ...feeder, name: 'yard' })).status).toBe(201);
    const taken = await ask('PUT', '/feeders/1/retirement', { retired: false });
    expect(taken.is.detail).toContain('circuits[0] hangs on "yard" already');
    // What is retired disturbs nobody: it may be written, but not be in use.
    const changed = { ...feeder, volts: 208 };
    expect((await ask('PUT', '/feeders/1?version=1', changed)).status).toBe(200);
    await ask('PUT', '/feeders/2/retirement', { retired: true });
    expect((await ask('PUT', '/feeders/1/retirement', { retired: false })).status).toBe(200);
    expect(told().slice(0, 2)).toEqual(['took back feeder "bays"', 'retired feeder "yard"']);
    await ask('PUT', '/feeders/1/retirement', { retired: true });
    await ask('PUT', '/circuits/2/retirement', { retired: true });
    const without = await ask('PUT', '/feeders/1/retirement', { retired: false });
    expect(without.is.detail).toBe('circuits[1] is "bay 2", which is retired');
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
