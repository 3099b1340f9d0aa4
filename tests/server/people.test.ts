import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { buildApp } from '../../dashboard/server/app.ts';
import { Access } from '../../dashboard/server/http/access.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { limits } from '../../dashboard/server/limits.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { differences } from '../../dashboard/server/people/differences.ts';
import { saidRight } from '../../dashboard/server/people/rights.ts';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import type { Problem, StoredPlate } from '../../shared/protocol/http.ts';
import type { AuditPage, Me, Person } from '../../shared/protocol/http-people.ts';
import { say } from '../../shared/rules/say.ts';
import { about, batchOf, bay, newArc, PlainWatch } from './given.ts';

let folder: string;
let store: SqliteStore;
let ingest: Ingest;
let app: FastifyInstance;
let access: Access;
let nowMs = 0;

/** Another device, one name for each, with the cookies that it was given. */
const phone = '192.0.2.7';
const tablet = '192.0.2.8';
let jars: Map<string, Map<string, string>>;

async function start(): Promise<void> {
  store = new SqliteStore(join(folder, 'people.sqlite'));
  const floor = new Floor(store, () => 0);
  const makeWatch = (...of: ConstructorParameters<typeof PlainWatch>) => new PlainWatch(...of);
  ingest = new Ingest({ store, floor, link: { publish: () => {} }, makeWatch, say: () => {} });
  ingest.start();
  access = new Access(true, () => nowMs);
  const parts = { store, floor, ingest, access, clock: () => nowMs };
  app = await buildApp({ ...parts, version: '0', webRoot: 'no-such-folder' });
}
async function stop(): Promise<void> {
  ingest.stop();
  await app.close();
  store.close();
}
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-people-'));
  jars = new Map();
  nowMs = Date.parse('2026-11-25T08:00:00Z');
  await start();
  store.saveAbout(bay, 'harbour-lane', about());
  ingest.stop();
  ingest.start();
});
afterEach(async () => {
  await stop();
  rmSync(folder, { recursive: true });
});

type Method = 'GET' | 'POST' | 'PUT' | 'DELETE' | 'HEAD';

/** Without a device it is this machine that asks. */
async function ask<T = Problem>(method: Method, path: string, payload?: object, device?: string) {
  const jar = jars.get(device ?? '') ?? new Map<string, string>();
  jars.set(device ?? '', jar);
  const cookie = [...jar].map(([name, value]) => `${name}=${value}`).join('; ');
  const answer = await app.inject({
    ...{ method, url: `/api/v1${path}`, headers: { cookie } },
    ...(payload && { payload }),
    ...(device && { remoteAddress: device }),
  });
  for (const { name, value } of answer.cookies) jar.set(name, value);
  const json = /json/.test(String(answer.headers['content-type']));
  const is = (json && answer.payload !== '' ? answer.json() : null) as T;
  return { status: answer.statusCode, is, answer };
}

const enter = (device: string) => ask('POST', '/access', { code: access.code! }, device);
const add = (name: string, role: string, pin: string, device?: string) =>
  ask<Person>('POST', '/people', { name, role, pin }, device);
const signIn = (person: number, pin: string, device?: string) =>
  ask<Me>('POST', '/me', { person, pin }, device);
const plate = { name: 'Tern 100', phases: 1, supply: [{ U1: 120, I1max: 23 }] };
const changes = async (query = '') =>
  (await ask<AuditPage>('GET', `/audit${query}`)).is.entries.map(({ says }) => says);

describe('rights', () => {
  it('stand in the table for every route that changes something', async () => {
    type Paths = Record<string, Record<string, unknown>>;
    const { is } = await ask<{ paths: Paths }>('GET', '/openapi.json');
    const routes = Object.entries(is.paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => {
        const route = path.replace('/api/v1', '').replace(/\{(\w+)\}/g, ':$1');
        return [method.toUpperCase(), route] as const;
      }),
    );
    const changing = routes.filter(([method]) => method !== 'GET');
    expect(changing.length).toBeGreaterThan(12);
    // The door stands before all roles.
    const behind = changing.filter(([, route]) => route !== '/access');
    const unsaid = behind.filter(([method, route]) => saidRight(method, route) === null);
    expect(unsaid.map((route) => route.join(' '))).toEqual([]);
    expect(saidRight('POST', '/nowhere')).toBeNull();
  });

  it('are all of this machine, and of every device until somebody is named', async () => {
    await enter(phone);
    expect((await ask('POST', '/plates', plate, phone)).status).toBe(201);
    expect((await ask<Me>('GET', '/me', undefined, phone)).is).toMatchObject({
      ...{ person: null, role: 'lead', own: false, people: false },
    });
    expect((await add('Ida', 'weld', '1234', phone)).is).toMatchObject({ code: 'last-lead' });
    expect((await add('Ida', 'lead', '1234', phone)).status).toBe(201);
    const refused = await ask('POST', '/plates', plate, phone);
    expect(refused).toMatchObject({ status: 401, is: { code: 'not-signed-in' } });
    expect((await ask('GET', '/plates', undefined, phone)).status).toBe(200);
    expect((await ask('POST', '/plates', plate)).status).toBe(201);
  });

  it('end where the role does: watch looks, weld welds, lead leads', async () => {
    store.commit(batchOf({ arcs: [newArc(0, 'underpowered'), newArc(20_000, 'underpowered')] }));
    await ask('POST', '/plates', plate);
    await add('Lea', 'lead', '1111');
    await add('Wim', 'watch', '2222');
    await add('Ida', 'weld', '3333');
    await enter(phone);
    const tries = async () => [
      (await ask('PUT', '/arcs/1/acknowledgement', { by: 'Nobody' }, phone)).status,
      (await ask('PUT', '/plates/1?version=1', plate, phone)).status,
      (await ask('GET', '/audit', undefined, phone)).status,
      (await ask('HEAD', '/audit', undefined, phone)).status,
      (await ask('GET', '/arcs', undefined, phone)).status,
    ];
    expect(await tries()).toEqual([401, 401, 401, 401, 200]);
    await signIn(2, '2222', phone);
    expect(await tries()).toEqual([403, 403, 403, 403, 200]);
    const refused = await ask('PUT', '/plates/1?version=1', plate, phone);
    expect(refused.is).toMatchObject({ code: 'not-allowed' });
    expect(refused.is.detail).toContain('Wim may watch');
    await signIn(3, '3333', phone);
    expect(await tries()).toEqual([200, 403, 403, 403, 200]);
    // What is signed in signs, whatever was typed.
    expect(store.arc(1)!.acknowledged!.by).toBe('Ida');
    await signIn(1, '1111', phone);
    expect(await tries()).toEqual([200, 200, 200, 200, 200]);
    expect(store.arc(1)!.acknowledged!.by).toBe('Ida');
  });

  it('of this machine are those of who is signed in there', async () => {
    await add('Lea', 'lead', '1111');
    await add('Wim', 'watch', '2222');
    expect((await signIn(2, '2222')).is).toMatchObject({ role: 'watch', own: true });
    expect((await ask('POST', '/plates', plate)).status).toBe(403);
    expect((await ask<Me>('DELETE', '/me')).is).toMatchObject({ person: null, role: 'lead' });
    expect((await ask('POST', '/plates', plate)).status).toBe(201);
  });
});

describe('signing in', () => {
  beforeEach(async () => {
    await add('Lea', 'lead', '1111');
    await add('Ida', 'weld', '3333');
    await enter(phone);
  });

  it('gives a cookie that no script reads, and that outlives a restart', async () => {
    const { answer } = await signIn(2, '3333', phone);
    const cookie = answer.cookies.find(({ name }) => name === 'stiffline-person')!;
    expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Strict', maxAge: 12 * 3_600 });
    expect(store.people.session(cookie.value, nowMs)).toBeNull();
    await stop();
    await start();
    const { is } = await ask<Me>('GET', '/me', undefined, phone);
    expect(is).toMatchObject({ person: { name: 'Ida' }, role: 'weld' });
    expect(is.until).toBe('2026-11-25T20:00:00.000Z');
    // Nor is the PIN anywhere that could be read.
    expect(JSON.stringify((await ask('GET', '/people')).is)).not.toContain('pin');
    expect(store.people.one(2)!.pin).toMatch(/^scrypt:32768:8:1:/);
  });

  it('ends with the shift, by signing out, and when a lead says so', async () => {
    const here = async () => (await ask<Me>('GET', '/me', undefined, phone)).is.person?.name;
    await signIn(2, '3333', phone);
    nowMs += limits.signedInHours * 3_600_000 - 1;
    expect(await here()).toBe('Ida');
    nowMs += 1;
    expect(await here()).toBeUndefined();
    await signIn(2, '3333', phone);
    const stolen = new Map(jars.get(phone));
    await ask('DELETE', '/me', undefined, phone);
    jars.set(phone, stolen);
    expect(await here()).toBeUndefined();
    for (const change of [{ pin: '4444' }, { disabled: true }]) {
      await ask('PUT', '/people/2', { pin: '3333', disabled: false });
      await signIn(2, '3333', phone);
      expect(await here()).toBe('Ida');
      await ask('PUT', '/people/2', change);
      expect(await here()).toBeUndefined();
    }
    expect((await signIn(2, '4444', phone)).status).toBe(403);
  });

  it('makes wrong PINs wait, longer each time, even through a restart', async () => {
    const wrong = async () => {
      const { status, is, answer } = await signIn(2, '0000', phone);
      return [status, (is as unknown as Problem).code, answer.headers['retry-after']];
    };
    expect(await wrong()).toEqual([403, 'pin-wrong', undefined]);
    expect(await wrong()).toEqual([403, 'pin-wrong', undefined]);
    expect(await wrong()).toEqual([403, 'pin-wrong', '10']);
    expect(await wrong()).toEqual([429, 'pin-locked', '10']);
    // Not even the right one, and no more is counted meanwhile.
    expect((await signIn(2, '3333', phone)).status).toBe(429);
    await stop();
    await start();
    expect((await signIn(2, '3333', phone)).status).toBe(429);
    nowMs += 10_000;
    expect(await wrong()).toEqual([403, 'pin-wrong', '60']);
    nowMs += 60_000;
    expect((await signIn(2, '3333', phone)).status).toBe(200);
    expect(store.people.one(2)).toMatchObject({ wrong: 0, lockedUntilMs: 0 });
    expect(await changes('?area=sign-in')).toEqual([
      'Ida signed in',
      '4 wrong PINs for Ida: locked for 60 s',
      '3 wrong PINs for Ida: locked for 10 s',
    ]);
  });

  it('counts tries of one moment, each', async () => {
    const tries = ['0000', '0001', '0002', '0003', '0004'].map((pin) => signIn(2, pin, phone));
    const codes = (await Promise.all(tries)).map(({ is }) => (is as unknown as Problem).code);
    expect(codes.sort()).toEqual([
      ...['pin-locked', 'pin-locked', 'pin-wrong', 'pin-wrong', 'pin-wrong'],
    ]);
  });

  it('knows no person that is not there, and takes no PIN but of digits', async () => {
    expect((await signIn(99, '3333', phone)).is).toMatchObject({ code: 'pin-wrong' });
    expect((await add('Bo', 'weld', 'abcd')).status).toBe(400);
    expect((await add('Bo', 'weld', '123')).status).toBe(400);
    expect((await add('ida', 'weld', '1234')).is).toMatchObject({ code: 'bad-request' });
    expect((await add('\u202e', 'weld', '1234')).status).toBe(400);
    expect((await ask('PUT', '/people/99', { name: 'x' })).status).toBe(404);
    expect((await ask('PUT', '/people/1', { role: 'weld' })).is.code).toBe('last-lead');
    expect((await ask('PUT', '/people/1', { disabled: true })).is.code).toBe('last-lead');
  });
});

describe('plates that two edit', () => {
  it('are saved by the first; the second is told who, and nothing of his is stored', async () => {
    await add('Lea', 'lead', '1111');
    await ask('POST', '/plates', plate);
    await enter(tablet);
    await signIn(1, '1111', tablet);
    const theirs = { ...plate, name: 'Tern 110' };
    const saved = await ask<StoredPlate>('PUT', '/plates/1?version=1', theirs, tablet);
    expect(saved.is).toMatchObject({ version: 2, changedBy: 'Lea', plate: theirs });
    const late = await ask('PUT', '/plates/1?version=1', { ...plate, name: 'Tern 120' });
    expect(late).toMatchObject({ status: 409, is: { code: 'changed-meanwhile' } });
    expect(late.is.detail).toContain('Lea changed plate "Tern 110" meanwhile');
    expect(store.plates.one(1)!.value).toEqual(theirs);
    expect((await ask('PUT', '/plates/1', plate)).status).toBe(400);
    // Brought back, as a version of its own.
    await ask('PUT', '/plates/1?version=2', plate);
    const { is } = await ask<{ versions: { version: number; changedBy: string; plate: object }[] }>(
      ...(['GET', '/plates/1/versions'] as const),
    );
    expect(is.versions.map(({ version, changedBy }) => [version, changedBy])).toEqual([
      ...[[3, null] as const, [2, 'Lea'] as const, [1, null] as const],
    ]);
    expect(is.versions[0]!.plate).toEqual(plate);
    const page = await ask('GET', '/plates/1/versions?limit=2');
    expect(page.is).toMatchObject({ next: 2 });
    expect((await ask('GET', '/plates/9/versions')).status).toBe(404);
  });

  it('are retired only where nothing uses them, and then not offered nor hung', async () => {
    await ask('POST', '/plates', plate);
    const hang = (id: number | null) =>
      ask('PUT', `/sensors/${bay}/assignment`, { circuit: null, plate: id });
    const retire = (retired: boolean) => ask('PUT', '/plates/1/retirement', { retired });
    await hang(1);
    expect((await retire(true)).is).toMatchObject({ code: 'in-use' });
    await hang(null);
    expect((await retire(true)).is).toMatchObject({ retired: true });
    expect((await ask('GET', '/plates')).is).toEqual([]);
    expect((await ask('GET', '/plates?retired=true')).is).toHaveLength(1);
    expect((await hang(1)).status).toBe(404);
    await retire(false);
    expect((await hang(1)).status).toBe(200);
  });
});

describe('the audit list', () => {
  it('has every change with its author, device, before and after', async () => {
    store.commit(batchOf({ arcs: [newArc(0, 'underpowered')] }));
    await add('Lea', 'lead', '1111');
    await enter(phone);
    await signIn(1, '1111', phone);
    await ask('POST', '/plates', plate, phone);
    await ask('PUT', '/plates/1?version=1', { ...plate, name: 'Tern 110' }, phone);
    // The same again changes nothing, and is no line.
    await ask('PUT', '/plates/1?version=2', { ...plate, name: 'Tern 110' }, phone);
    await ask('POST', '/circuits', { name: 'Bay 1', volts: 120 });
    await ask('PUT', `/sensors/${bay}/assignment`, { circuit: 1, plate: 1 });
    await ask('PUT', '/arcs/1/acknowledgement', {}, phone);
    await ask('PUT', '/arcs/1/acknowledgement', { by: 'Robin' });
    await ask('PUT', '/people/1', { name: 'Lea W.' });
    expect(await changes()).toEqual([
      'changed Lea: name "Lea" → "Lea W."',
      'Lea acknowledged the underpowered arc 1 at harbour-lane.bay-1',
      'changed what hangs on harbour-lane.bay-1: circuit – → "Bay 1", plate – → "Tern 110"',
      'added circuit "Bay 1"',
      'changed plate "Tern 100": name "Tern 100" → "Tern 110"',
      'added plate "Tern 100"',
      'Lea signed in',
      'added Lea, who may lead',
    ]);
    const { entries } = (await ask<AuditPage>('GET', '/audit?area=plates&limit=1')).is;
    expect(entries[0]).toMatchObject({
      ...{ person: { id: 1, name: 'Lea' }, device: phone, area: 'plates', subject: 'plate 1' },
      ...{ before: plate, after: { ...plate, name: 'Tern 110' } },
    });
    expect((await ask('GET', '/audit')).answer.payload).not.toContain('scrypt');
  });

  it('comes by pages, each line once, by person and time, and whole as CSV', async () => {
    await add('=Lea, "the" lead', 'lead', '1111');
    for (let n = 0; n < 5; n++) await ask('POST', '/plates', { ...plate, name: `Tern ${n}` });
    const ids: number[] = [];
    for (let next: number | null = 0; next !== null; ) {
      const path: string = `/audit?limit=2${next ? `&before=${next}` : ''}`;
      const { is }: { is: AuditPage } = await ask<AuditPage>('GET', path);
      ids.push(...is.entries.map(({ id }) => id));
      next = is.next;
    }
    expect(ids).toEqual([6, 5, 4, 3, 2, 1]);
    expect(await changes('?person=1')).toEqual([]);
    expect(await changes('?to=2020-01-01T00:00:00Z')).toEqual([]);
    expect(await changes('?from=2020-01-01T00:00:00Z&area=people')).toHaveLength(1);
    const { answer } = await ask('GET', '/audit.csv?area=people');
    expect(answer.headers['content-type']).toContain('text/csv');
    const [head, line] = answer.payload.split('\r\n');
    expect(head).toBe('id,at,person,device,area,subject,says,before,after');
    expect(line).toContain(
      ',this machine,people,person 1,"added =Lea, ""the"" lead, who may lead"',
    );
  });

  it('has job sheets too, in the name of who is signed in', async () => {
    await add('Lea', 'lead', '1111');
    await add('Ida', 'weld', '3333');
    await enter(phone);
    await signIn(2, '3333', phone);
    const job = { number: '17', vehicle: 'a van', by: 'typed' };
    expect((await ask('POST', '/jobs', job, phone)).status).toBe(201);
    expect((await ask('POST', '/jobs/1/close', { by: 'typed' }, phone)).status).toBe(200);
    expect((await ask('POST', '/jobs/9/close', { by: 'typed' }, phone)).status).toBe(404);
    const { entries } = (await ask<AuditPage>('GET', '/audit?area=jobs')).is;
    expect(entries.map(({ says }) => says)).toEqual([
      ...['Ida closed the job', 'Ida opened job 17'],
    ]);
    expect(entries[0]).toMatchObject({
      ...{ before: { closed: null }, after: { closed: { by: 'Ida' } } },
    });
    // Nobody is signed in at this machine, and no name was typed.
    const nameless = await ask('POST', '/jobs', { number: '18', vehicle: 'a car' });
    expect(nameless).toMatchObject({ status: 400 });
    expect(await changes('?area=jobs')).toHaveLength(2);
    const tapped = await ask('POST', '/jobs', { number: '18', vehicle: 'a car' }, tablet);
    expect(tapped.status).toBe(401);
    const signed = await ask('POST', '/jobs', { number: '18', vehicle: 'a car' }, phone);
    expect(signed).toMatchObject({ status: 201, is: { opened: { by: 'Ida' } } });
  });

  it('is not written where the change is refused', async () => {
    await ask('POST', '/plates', plate);
    await ask('PUT', '/plates/1?version=7', { ...plate, name: 'x' });
    await ask('PUT', '/plates/9?version=1', plate);
    await ask('POST', '/plates', { ...plate, supply: [] });
    expect(await changes()).toEqual(['added plate "Tern 100"']);
  });

  it('says what differs, the first places and how many more', () => {
    const told = (before: unknown, after: unknown) =>
      say('settingsChanged', differences(before, after)).says.replace(/^.*: /, '');
    expect(told({ a: 1, b: { c: [1, 2] } }, { a: 1, b: { c: [1, 3, 4] } })).toBe(
      'b c 2 2 → 3, b c 3 – → 4',
    );
    expect(told({}, { a: 1, b: 2, c: 3, d: 4, e: 5, f: 6 })).toMatch(/, and 2 more$/);
    expect(differences({ a: 1 }, { a: 1 })).toEqual({ places: [], more: 0 });
  });
});
