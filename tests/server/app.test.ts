import type { FastifyInstance, InjectOptions } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import { buildApp } from '../../dashboard/server/app.ts';
import { Access } from '../../dashboard/server/http/access.ts';
import { problems } from '../../dashboard/server/http/problems.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { ArcPage, History, Problem, RowColumns, Sensor } from '../../shared/protocol/http.ts';
import { decodeWaveform } from '../../shared/protocol/live-rows.ts';
import { encodeMessage } from '../../shared/protocol/messages.ts';
import { toWire } from '../../shared/protocol/wire.ts';
import { sound } from '../attack/hostile.ts';
import { about, batchOf, bay, block, newArc, PlainWatch } from './given.ts';

let store: MemoryStore;
let ingest: Ingest;
let floor: Floor;
let app: FastifyInstance;

async function build(needsCode = false): Promise<Access> {
  store = new MemoryStore();
  store.saveAbout(bay, 'harbour-lane', about());
  floor = new Floor(store, () => 0);
  const makeWatch = (...of: ConstructorParameters<typeof PlainWatch>) => new PlainWatch(...of);
  ingest = new Ingest({ store, floor, link: { publish: () => {} }, makeWatch, say: () => {} });
  ingest.start();
  const access = new Access(needsCode);
  const parts = { store, floor, ingest, access };
  app = await buildApp({ ...parts, version: '0', webRoot: 'no-such-folder' });
  return access;
}
beforeEach(async () => {
  await build();
});
afterEach(async () => {
  ingest.stop();
  await app.close();
});

async function ask<T>(url: string, more: InjectOptions = {}): Promise<{ status: number; is: T }> {
  const answer = await app.inject({ url, ...more });
  return { status: answer.statusCode, is: answer.json() as T };
}
const put = (url: string, payload: object) => ask<Problem>(url, { method: 'PUT', payload });
const commit = (more: Parameters<typeof batchOf>[0]) => store.commit(batchOf(more));

describe('sensors, circuits and plates', () => {
  const circuit = { name: 'Bay 1', volts: 120 };
  const plate = { name: 'Tern 100', phases: 1, supply: [{ U1: 120, I1max: 23 }] };
  const assign = `/api/v1/sensors/${bay}/assignment`;

  it('are made, hung on a sensor and shown there', async () => {
    const made = await ask('/api/v1/circuits', { method: 'POST', payload: circuit });
    expect(made).toMatchObject({ status: 201, is: { id: 1, version: 1, circuit } });
    await ask('/api/v1/plates', { method: 'POST', payload: plate });
    expect((await put(assign, { circuit: 1, plate: 1 })).status).toBe(200);
    await put('/api/v1/circuits/1?version=1', { ...circuit, volts: 240 });
    const { is } = await ask<Sensor[]>('/api/v1/sensors');
    expect(is[0]!.circuit!.circuit.volts).toBe(240);
    expect(is[0]!.plate!.plate).toEqual(plate);
  });

  it('know where a sensor sits: by itself, else by its circuit, else nobody does', async () => {
    const at = async () => (await ask<Sensor[]>('/api/v1/sensors')).is[0]!.at;
    await ask('/api/v1/circuits', { method: 'POST', payload: circuit });
    const { at: stated, ...silent } = about();
    store.saveAbout(bay, 'harbour-lane', silent);
    floor.about(store.sensors()[0]!, 'harbour-lane');
    expect(await at()).toBe('unstated');
    await put(assign, { circuit: 1, plate: null });
    expect(await at()).toBe('unstated');
    // The page asks, and keeps the answer with the circuit.
    const said = await put('/api/v1/circuits/1?version=1', { ...circuit, sensorAt: 'outlet' });
    expect(said.status).toBe(200);
    expect(await at()).toBe('outlet');
    await put('/api/v1/circuits/1?version=2', { ...circuit, sensorAt: 'machine' });
    expect(await at()).toBe('machine');
    // What the sensor says of itself stands over it.
    store.saveAbout(bay, 'harbour-lane', { ...silent, boot: 2, at: 'outlet' });
    floor.about(store.sensors()[0]!, 'harbour-lane');
    expect(await at()).toBe('outlet');
    expect(stated).toBeDefined();
  });

  it('are refused by path when they cannot be', async () => {
    const post = (payload: object) => ask<Problem>('/api/v1/plates', { method: 'POST', payload });
    const unknown = await post({ ...plate, colour: 'red' });
    expect(unknown).toMatchObject({ status: 400, is: { code: 'bad-request' } });
    expect(unknown.is.detail).toContain('colour is not a known key');
    const odd = await post({ ...plate, supply: [{ U1: 120, I1max: 23, I1eff: 40 }] });
    expect(odd.is.detail).toContain('supply[0].I1eff');
    expect((await put(assign, { circuit: 7, plate: null })).status).toBe(404);
    expect((await put(assign, { circuit: 1 })).status).toBe(400);
    expect(
      (await put(assign.replace('bay-1', 'bay-9'), { circuit: null, plate: null })).is.detail,
    ).toContain('harbour-lane.bay-9');
  });

  it('tell their history by buckets, the lowest and the highest of each', async () => {
    const second = (timeMs: number, low: number) => ({
      ...{ sensor: bay, timeMs, hertz: 60, voltsMin: [low], voltsMax: [121] },
      ...{ ampsMin: [0], ampsMax: [1] },
    });
    commit({ seconds: [second(1_000, 119), second(2_000, 97), second(61_000, 118)] });
    const query = 'from=1970-01-01T00:00:00Z&to=1970-01-01T00:02:00Z&points=4';
    const { is } = await ask<History>(`/api/v1/sensors/${bay}/history?${query}`);
    expect(is.timeS).toEqual([15, 45, 75, 105]);
    expect(is.voltsMin).toEqual([[97, null, 118, null]]);
    const wrong = await ask(`/api/v1/sensors/${bay}/history?from=x&to=y`);
    expect(wrong.status).toBe(400);
  });
});

describe('arcs', () => {
  it('come by pages, each once', async () => {
    commit({ arcs: Array.from({ length: 5 }, (_, at) => newArc(at * 20_000)) });
    const ids: number[] = [];
    for (let next: string | null = ''; next !== null; ) {
      const path: string = `/api/v1/arcs?limit=2${next && `&before=${next}`}`;
      const { is }: { is: ArcPage } = await ask<ArcPage>(path);
      ids.push(...is.arcs.map(({ id }) => id));
      next = is.next;
    }
    expect(ids).toEqual([5, 4, 3, 2, 1]);
    expect((await ask('/api/v1/arcs?limit=9999')).status).toBe(400);
    expect((await ask('/api/v1/arcs?before=yesterday')).status).toBe(400);
    expect((await ask<Problem>('/api/v1/arcs/77')).is).toMatchObject({ code: 'not-found' });
  });

  it('show samples in volts and amperes, with NaN where they were lost', async () => {
    commit({ arcs: [newArc(0)], blocks: [block(3, 0), block(5, 2048)] });
    const answer = await app.inject('/api/v1/arcs/1/waveform?fromS=0&toS=0.3');
    const wave = decodeWaveform(Uint8Array.from(answer.rawPayload).buffer)!;
    expect(wave).toMatchObject({ rateHz: 10_240, startS: 0 });
    expect(wave.volts[0]!.length).toBe(3072);
    expect(wave.volts[0]![1023]).toBeCloseTo(0.03, 6);
    expect(wave.volts[0]![1024]).toBeNaN();
    expect(wave.amps[0]![2048]).toBeCloseTo(0.01, 6);
  });

  it('show rows with a null where there is a hole', async () => {
    const ends = [1_000, 1_085.5, 4_000, 4_085.5];
    const batch = {
      ...{ end: Float64Array.from(ends), hertz: new Float32Array(4).fill(60) },
      volts: [Float32Array.of(120, 119, 118, Number.NaN)],
      ...{ amps: [new Float32Array(4)], watts: [new Float32Array(4)] },
    };
    commit({ arcs: [newArc(0)], rows: [{ sensor: bay, boot: 1, batch }] });
    const { is } = await ask<RowColumns>('/api/v1/arcs/1/rows');
    expect(is.volts).toEqual([[120, 119, null, 118, null]]);
    expect(is.timeS[0]).toBeCloseTo(1_000 / 10_240, 9);
    expect([...is.timeS].sort((a, b) => a - b)).toEqual(is.timeS);
  });

  it('stay flagged until somebody puts a name to it', async () => {
    commit({ arcs: [newArc(0, 'underpowered')] });
    const seen = await put('/api/v1/arcs/1/acknowledgement', { by: 'M. Reyes' });
    expect(seen).toMatchObject({ status: 200, is: { acknowledged: { by: 'M. Reyes' } } });
    expect((await put('/api/v1/arcs/1/acknowledgement', { by: '' })).status).toBe(400);
    expect((await put('/api/v1/arcs/9/acknowledgement', { by: 'x' })).status).toBe(404);
  });
});

describe('the house around them', () => {
  it('describes itself in OpenAPI 3.1', async () => {
    const { is } = await ask<{ openapi: string; paths: object }>('/api/v1/openapi.json');
    expect(is.openapi).toBe('3.1.0');
    expect(Object.keys(is.paths)).toEqual(
      expect.arrayContaining(['/api/v1/arcs/{id}/rows', '/api/v1/sensors/{sensor}/history']),
    );
  });

  it('tells health, readiness and metrics', async () => {
    expect((await ask('/healthz')).is).toEqual({ alive: true });
    expect((await ask('/readyz')).status).toBe(200);
    ingest.receive('stiffline/v1/harbour-lane/bay-1/wave', Uint8Array.of(0xff));
    const { payload } = await app.inject('/metrics');
    expect(payload).toMatch(/^stiffline_faults_total\{fault="no-cbor"\} 1$/m);
    const labels = `sensor="${bay}",kind="wave",fault="no-cbor"`;
    expect(payload).toContain(`stiffline_refused_total{${labels}} 1\n`);
    expect(payload).toMatch(/^stiffline_ready 1$/m);
    ingest.stop();
    expect(await ask('/readyz')).toEqual({
      ...{ status: 503, is: { ready: false, reason: 'not started' } },
    });
  });

  it('says that nothing is stored, and why, until it is; and what was put aside', async () => {
    const { commit } = store;
    store.commit = () => {
      throw Object.assign(new Error('database or disk is full'), { code: 'SQLITE_FULL' });
    };
    const bad = { ...sound.wave, flags: -1 };
    ingest.receive(`stiffline/v1/harbour-lane/bay-1/wave`, toWire(bad));
    ingest.flush();
    expect(await ask('/readyz')).toEqual({
      status: 503,
      is: { ready: false, reason: 'nothing is being stored: database or disk is full' },
    });
    expect((await app.inject('/metrics')).payload).toMatch(/^stiffline_ready 0$/m);
    store.commit = commit;
    ingest.flush();
    expect(await ask('/readyz')).toEqual({ status: 200, is: { ready: true } });
    const { payload } = await app.inject('/metrics');
    expect(payload).toMatch(/^stiffline_quarantined 1$/m);
    expect(payload).toMatch(/^stiffline_quarantined_total 1$/m);
  });

  it('shows all sensors though one has a figure that is no number', async () => {
    ingest.receive('stiffline/v1/harbour-lane/bay-1/rows', toWire(sound.rows));
    const [sensor] = floor.sensors();
    sensor!.reading!.hertz = Number.NaN;
    for (const url of ['/api/v1/sensors', `/api/v1/sensors/${bay}`])
      expect((await app.inject(url)).statusCode).toBe(200);
    const { is } = await ask<Sensor[]>('/api/v1/sensors');
    expect(is).toMatchObject([{ id: bay, reading: { hertz: null, volts: [120] } }]);
  });

  it('sends headers that let nothing foreign in', async () => {
    const { headers } = await app.inject('/healthz');
    expect(headers['content-security-policy']).toContain("default-src 'self'");
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['strict-transport-security']).toBeUndefined();
  });

  it('tells every failure by a problem of the catalogue', async () => {
    for (const url of ['/nowhere', '/api/v1/nowhere', '/api/v1/arcs/abc', '/']) {
      const answer = await app.inject(url);
      expect(answer.headers['content-type']).toMatch('application/problem+json');
      const { code, status } = answer.json() as Problem;
      expect(problems[code as keyof typeof problems][0]).toBe(status);
      expect(status).toBe(answer.statusCode);
    }
  });

  it('does not go by a foreign name: so a web site would reach into this machine', async () => {
    const answer = await ask<Problem>('/api/v1/arcs', { headers: { host: 'evil.example' } });
    expect(answer).toMatchObject({ status: 421, is: { code: 'wrong-host' } });
  });

  it('takes no change from a page of another site', async () => {
    const headers = { origin: 'http://evil.example' };
    const payload = { name: 'x', volts: 120 };
    const answer = await ask<Problem>('/api/v1/circuits', { method: 'POST', payload, headers });
    expect(answer).toMatchObject({ status: 403, is: { code: 'wrong-origin' } });
    expect(store.circuits.list()).toEqual([]);
  });
});

describe('live feed', () => {
  const join = async (origin?: string) => {
    await app.listen({ port: 0, host: '127.0.0.1' });
    const { port } = app.server.address() as { port: number };
    return new WebSocket(`ws://127.0.0.1:${port}/api/v1/live`, origin ? { origin } : {});
  };

  it('greets a page and tells it of a sensor that comes', async () => {
    const socket = await join();
    const heard: string[] = [];
    socket.on('message', (data) => heard.push((JSON.parse(String(data)) as { kind: string }).kind));
    await expect.poll(() => heard).toEqual(['hello']);
    const topic = 'stiffline/v1/harbour-lane/bay-2/about';
    ingest.receive(topic, encodeMessage('about', { ...about(), name: 'bay-2' }));
    await expect.poll(() => heard).toEqual(['hello', 'sensor']);
    const gone = new Promise((resolve) => socket.once('close', resolve));
    await app.close();
    expect(await gone).toBe(1001);
  });

  it('gives a page of another site no socket', async () => {
    const socket = await join('http://evil.example');
    const error = await new Promise<Error>((resolve) => socket.once('error', resolve));
    expect(error.message).toContain('403');
  });
});

describe('another device', () => {
  const remoteAddress = '192.0.2.7';

  it('shows the code once and has a session from then on', async () => {
    await app.close();
    const access = await build(true);
    const first = await ask<Problem>('/api/v1/arcs', { remoteAddress });
    expect(first).toMatchObject({ status: 401, is: { code: 'access-code-needed' } });
    const enter = (code: string) =>
      app.inject({ url: '/api/v1/access', method: 'POST', payload: { code }, remoteAddress });
    expect((await enter('0000')).statusCode).toBe(403);
    const entered = await enter(access.code!);
    expect(entered.statusCode).toBe(204);
    const [cookie] = entered.cookies;
    expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Strict' });
    const headers = { cookie: `${cookie!.name}=${cookie!.value}` };
    expect((await ask('/api/v1/arcs', { remoteAddress, headers })).status).toBe(200);
    const forged = { cookie: `${cookie!.name}=x` };
    expect((await ask('/api/v1/arcs', { remoteAddress, headers: forged })).status).toBe(401);
    expect((await ask('/api/v1/arcs')).status).toBe(200);
  });

  it('may not try codes without end', async () => {
    await app.close();
    await build(true);
    const tries = [];
    for (let n = 0; n < 12; n++)
      tries.push(
        await app.inject({
          ...{ url: '/api/v1/access', method: 'POST', remoteAddress },
          payload: { code: String(n) },
        }),
      );
    expect(tries.map(({ statusCode }) => statusCode).slice(-2)).toEqual([429, 429]);
    expect(tries.at(-1)!.json<Problem>().detail).toBe('too many tries: try again in a minute');
  });
});
