import type { FastifyInstance } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { buildApp } from '../../dashboard/server/app.ts';
import { Access } from '../../dashboard/server/http/access.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { readingsOf } from '../../dashboard/server/live/readings.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { Problem } from '../../shared/protocol/http.ts';
import type { Check, KeptCheck } from '../../shared/protocol/http-check.ts';
import type { Remedies } from '../../shared/protocol/http-plan.ts';
import { encodeMessage, type Rows } from '../../shared/protocol/messages.ts';
import type { Plan, PlannedCircuit } from '../../shared/protocol/planning.ts';
import type { SupplyEvidence } from '../../shared/rules/facts.ts';
import { view } from '../rules/given.ts';
import { about, bay, checked, judged, PlainWatch, stamp, wave } from './given.ts';

let store: MemoryStore;
let floor: Floor;
let ingest: Ingest;
let app: FastifyInstance;
let nowMs: number;

const circuit = { name: 'Bay 1', volts: 120, branch: { awg: 12 as const, feet: 40 } };
const plate = {
  ...{ name: 'Tern 100', phases: 1 as const, supply: [{ U1: 120, I1max: 20 }] },
  ratings: [{ X: 0.2, I2: 90, U2: 18.5 }],
};

beforeEach(async () => {
  nowMs = Date.parse('2026-11-25T08:00:00Z');
  seq = 0;
  watches = 0;
  store = new MemoryStore();
  store.saveAbout(bay, 'harbour-lane', { ...about(), at: 'outlet' });
  store.circuits.add(circuit, stamp);
  store.plates.add(plate, stamp);
  await start();
});
afterEach(() => stop());

let watches = 0;
const makeWatch = (...of: ConstructorParameters<typeof PlainWatch>) => {
  watches += 1;
  return new PlainWatch(...of);
};

/** What the person says stands there, as the shop has it stored. */
function hang(): void {
  store.circuits.set(1, { ...circuit, cords: wish.cords }, stamp);
  store.assign(bay, 1, 1);
  ingest.reassign();
}

let seq = 0;
/** Welds at the sensor, block by block; the arc as it was stored. */
function welded() {
  const topic = 'stiffline/v1/harbour-lane/bay-1/wave';
  const next = (data?: Int16Array) => {
    const block = wave(++seq, seq * 1024, data && { data });
    ingest.receive(topic, encodeMessage('wave', block));
  };
  next(new Int16Array(2048));
  next();
  next(new Int16Array(2048));
  ingest.flush();
  return store.arcs({ limit: 1 })[0]!;
}

async function start(): Promise<void> {
  floor = new Floor(store, () => nowMs);
  ingest = new Ingest({ store, floor, link: { publish: () => {} }, makeWatch, say: () => {} });
  ingest.start();
  const parts = { store, floor, ingest, access: new Access(false) };
  app = await buildApp({ ...parts, version: '0', webRoot: 'no-such-folder' });
}
async function stop(): Promise<void> {
  ingest.stop();
  await app.close();
}

async function ask<T>(url: string, payload?: object): Promise<{ status: number; is: T }> {
  const method = payload ? 'POST' : 'GET';
  const answer = await app.inject({ url: `/api/v1${url}`, method, ...(payload && { payload }) });
  return { status: answer.statusCode, is: answer.json() as T };
}

const wish = {
  ...{ sensor: bay, person: 'Ida', place: 'Bay 1, door', circuit: 1, plate: 1 },
  ...{ cords: [{ awg: 12, feet: 25 }], cordFrom: 'first-bead' },
};
const begin = async (more: object = {}) => (await ask<Check>('/checks', { ...wish, ...more })).is;
const look = async (id: number) => (await ask<Check>(`/checks/${id}`)).is;
const choose = async (id: number, choice: string) =>
  (await ask<Check>(`/checks/${id}/choice`, { choice })).is;

const rows = (volts: number, amps: number): Rows => ({
  ...{ v: 1, boot: 1, first: 0, time: nowMs * 1e3, n: 120 },
  end: Float64Array.from({ length: 120 }, (_, row) => (row + 1) * (10_240 / 120)),
  hz: new Float32Array(120).fill(60),
  volts: [new Float32Array(120).fill(volts)],
  amps: [new Float32Array(120).fill(amps)],
  watts: [new Float32Array(120)],
});
function second(volts: number, amps: number, count = 1): void {
  for (let each = 0; each < count; each++) floor.rows(bay, rows(volts, amps));
}

const supply: SupplyEvidence = {
  pairs: [view({ openVolts: 121, ohmsR: 0.3, ohmsX: 0.1, largestStepAmps: 18 })],
  behaviour: 'constant-power',
};
const hangs = { loops: [0], ampsPerLine: 1, service: null };
function bead(burning: boolean): void {
  const arc = judged('adequate');
  const whole = { ...arc, endS: 4, durationS: 3 };
  const watched = { start: 10_240, end: 40_960, arc: whole, supply, hangs, estimates: [null] };
  if (burning) floor.arcGoesOn(bay, nowMs * 1e3, watched);
  else floor.arcEnded(bay, watched);
}

describe('an outlet check', () => {
  it('is of what the person says stands there, and changes nothing in the shop', async () => {
    store.circuits.add({ name: 'Bay 2', volts: 240 }, stamp);
    store.plates.add({ ...plate, name: 'Skua 180' }, stamp);
    store.assign(bay, 2, 2);
    ingest.reassign();
    const everything = () =>
      JSON.stringify([
        ...[store.circuits.list(), store.plates.list(), store.sensors()],
        ...[
          store.circuits.versions(1, 99, 9),
          floor.sensor(bay)!.circuit,
          floor.sensor(bay)!.plate,
        ],
      ]);
    const before = everything();
    const check = await begin();
    expect(check).toMatchObject({ id: 1, sensor: bay, plate, result: null });
    expect(check.circuit).toMatchObject({ name: 'Bay 1', cords: wish.cords, sensorAt: 'outlet' });
    expect(check.telling).toMatchObject({ step: 'no-load', enough: false });
    expect(everything()).toBe(before);
    second(121, 0.1, 6);
    bead(false);
    expect((await choose(check.id, 'judge')).result).not.toBeNull();
    expect(everything()).toBe(before);
    const noted = store.audit.list({ limit: 9 }).map(({ area }) => area);
    expect(new Set(noted)).toEqual(new Set(['checks']));
  });

  it('has its arcs judged by what it is of, and no other arc', async () => {
    store.circuits.add({ name: 'Bay 2', volts: 240 }, stamp);
    store.plates.add({ ...plate, name: 'Skua 180' }, stamp);
    store.assign(bay, 2, 2);
    ingest.reassign();
    const names = () => {
      const { plate, circuit, plateVersion, circuitVersion, hung } = welded();
      return [plate!.name, circuit!.name, plateVersion, circuitVersion, hung!.circuit];
    };
    expect(names()).toEqual(['Skua 180', 'Bay 2', 1, 1, 2]);
    const { id } = await begin();
    // The cord is not the stored one: no version says it.
    expect(names()).toEqual(['Tern 100', 'Bay 1', 1, null, 1]);
    expect(store.arcs({ limit: 1 })[0]!.circuit!.cords).toEqual(wish.cords);
    // After a restart it is the same.
    await stop();
    await start();
    expect(names()).toEqual(['Tern 100', 'Bay 1', 1, null, 1]);
    expect((await look(id)).plate!.name).toBe(plate.name);
    await choose(id, 'stop');
    expect(names()).toEqual(['Skua 180', 'Bay 2', 1, 1, 2]);
  });

  it('keeps the watch that stands where it is of what hangs there anyway', async () => {
    hang();
    welded();
    const before = watches;
    const { id } = await begin();
    welded();
    await choose(id, 'stop');
    welded();
    expect(watches).toBe(before);
  });

  it('does not begin while an arc burns on the circuit, at either end of its cord', async () => {
    floor.arcBegan(bay, nowMs * 1e3);
    const refused = await ask<Problem>('/checks', wish);
    expect(refused).toMatchObject({
      status: 409,
      is: { code: 'not-now', detail: 'wait: an arc is burning here' },
    });
    floor.arcDropped(bay);
    const other = 'harbour-lane.bay-1-end';
    const record = { ...store.sensors()[0]!, sensor: other, circuit: 1 };
    floor.about(record, 'harbour-lane');
    floor.arcBegan(other, nowMs * 1e3);
    expect((await ask<Problem>('/checks', wish)).status).toBe(409);
    floor.arcDropped(other);
    expect((await ask<Check>('/checks', wish)).status).toBe(201);
  });

  it('that must not be plugged in is told and judged before any weld', async () => {
    const { id, telling } = await begin();
    expect(telling.warnings).toEqual([]);
    second(242, 0.1, 6);
    const told = (await look(id)).telling;
    expect(told).toMatchObject({ step: 'no-load', verdict: 'unsuited' });
    expect(told.choices).toEqual(['judge', 'again', 'stop']);
    const { result } = await choose(id, 'judge');
    expect(result).toMatchObject({ verdict: 'unsuited', beads: [] });
    expect((await ask<KeptCheck[]>('/checks')).is[0]).toMatchObject({ verdict: 'unsuited' });
  });

  it('says what of it is not stored, so that a person may save it', async () => {
    const { id } = await begin();
    second(121, 0.1, 6);
    bead(false);
    const judged = await choose(id, 'judge');
    expect(judged.unsaved).toEqual({ circuit: 1, plate: 1, cords: true, assignment: true });
    hang();
    expect((await look(id)).unsaved).toBeNull();
    // It is of this outlet still, and says so.
    expect((await look(id)).staleness).toMatchObject({ stale: false });
  });

  it('is led by readings and beads to a judgement that is kept', async () => {
    const { id } = await begin();
    second(121, 3, 6);
    expect((await look(id)).telling.doNow).toContain('Unplug');
    expect((await choose(id, 'go-on')).telling.note).toContain('Not yet');
    second(121, 0.1, 6);
    expect((await look(id)).telling.enough).toBe(true);
    expect((await choose(id, 'go-on')).telling.step).toBe('idle');
    second(120.5, 0.3, 6);
    expect((await choose(id, 'go-on')).telling.step).toBe('first-bead');
    bead(true);
    const burning = await look(id);
    expect(burning.bead!.durationS).toBe(3);
    expect(burning.telling.choices).not.toContain('judge');
    bead(false);
    const { result, telling } = await choose(id, 'judge');
    expect(telling.step).toBe('judged');
    expect(result).toMatchObject({ person: 'Ida', place: 'Bay 1, door', cords: wish.cords });
    expect(result!.noLoadVolts).toBeCloseTo(121, 3);
    expect(result!.supply).toEqual({ openVolts: 121, ohmsR: 0.3, ohmsX: 0.1 });
    expect(store.check(id)!.result).toEqual(result);
  });

  it('is seen by pages as it moves on, and not while nothing changes', async () => {
    const told: string[] = [];
    const page = {
      ...{ bufferedAmount: 0, close: () => {}, terminate: () => {} },
      send: (data: Uint8Array | string) => {
        told.push(data.toString());
      },
    };
    floor.hub.enter(page);
    await begin();
    const checks = () => told.filter((text) => text.includes('"kind":"check"')).length;
    expect(checks()).toBe(1);
    second(121, 0.1, 6);
    const moved = checks();
    expect(moved).toBeGreaterThan(3);
    bead(false);
    expect(checks()).toBe(moved + 1);
    second(121, 0.1, 6);
    expect(checks()).toBe(moved + 1);
  });

  it('ends when another begins, and when the cord changes', async () => {
    const first = await begin();
    const next = await begin();
    expect(next.id).toBe(first.id + 1);
    const payload = { ...circuit, cords: [{ awg: 16, feet: 50 }] };
    await app.inject({ method: 'PUT', url: '/api/v1/circuits/1?version=1', payload });
    expect((await look(next.id)).telling).toMatchObject({ step: 'stopped', choices: [] });
    expect((await look(next.id)).telling.note).toContain('changed');
    await stop();
    await start();
    expect((await look(next.id)).telling.step).toBe('stopped');
  });

  it('goes on after a restart: what was done stands, the rest is taken anew', async () => {
    const { id } = await begin({ cordFrom: 'second-bead' });
    // The floor and the ingest alone: the HTTP side keeps nothing.
    const restart = () => {
      ingest.stop();
      floor = new Floor(store, () => nowMs);
      ingest = new Ingest({ store, floor, link: { publish() {} }, makeWatch, say() {} });
      ingest.start();
      return floor.checks.view(id)!;
    };
    second(121, 0.1, 6);
    floor.checks.choose(id, 'go-on');
    second(120.5, 0.3, 3);
    const { telling: idle } = restart();
    expect(idle).toMatchObject({ step: 'idle', enough: false });
    expect(idle.note).toContain('steady voltage once more');
    second(120.5, 0.3, 6);
    expect(floor.checks.choose(id, 'go-on')!.telling).toMatchObject({ step: 'first-bead' });
    bead(true);
    expect(restart().bead).toBeNull();
    // The sensors send again what was not stored, so the bead comes whole.
    bead(false);
    expect(restart().bead!.durationS).toBe(3);
    expect(floor.checks.choose(id, 'with-cord')!.telling.step).toBe('second-bead');
    // The same bead once more, out of blocks that were sent again.
    bead(false);
    expect(restart().bead).toBeNull();
    expect(store.runningChecks()).toHaveLength(1);
    floor.checks.choose(id, 'stop');
    expect(store.runningChecks()).toHaveLength(0);
    expect(restart().telling.step).toBe('stopped');
  });

  it('goes stale by time, machine and cord, and says why', async () => {
    store.assign(bay, 1, 1);
    ingest.reassign();
    const result = { ...checked('adequate'), circuit: 'Bay 1' };
    store.judgeCheck(store.addCheck(bay, { ...result, cordFrom: 'first-bead' }), result);
    const kept = async () => (await ask<KeptCheck[]>(`/checks?sensor=${bay}`)).is[0]!;
    expect((await kept()).staleness).toEqual({ stale: false, why: [], sayings: [] });
    nowMs += 40 * 86_400_000;
    expect((await kept()).staleness.why).toEqual([expect.stringContaining('40 days')]);
    store.plates.set(1, { ...plate, name: 'Skua 180' }, stamp);
    ingest.reassign();
    expect((await kept()).staleness.why).toHaveLength(2);
  });

  it('is refused by name of what is wrong, and nothing is changed', async () => {
    const refused = async (more: object) =>
      (await ask<Problem>('/checks', { ...wish, ...more })).is;
    expect((await refused({ sensor: 'harbour-lane.bay-9' })).detail).toContain('bay-9');
    expect((await refused({ circuit: 7 })).detail).toContain('circuit 7');
    expect((await refused({ plate: 7 })).detail).toContain('plate 7');
    expect((await refused({ cords: [{ awg: 12 }] })).detail).toContain('cords[0] has no length');
    expect((await refused({ person: '\u202e' })).detail).toContain('person');
    expect((await refused({ mood: 'good' })).status).toBe(400);
    expect((await ask<Problem>('/checks/1/choice', { choice: 'go-on' })).status).toBe(404);
    expect((await ask<Problem>('/checks/1/choice', { choice: 'dance' })).status).toBe(400);
    expect(floor.sensor(bay)!.plate).toBeNull();
    expect(store.circuits.one(1)!.value).toEqual(circuit);
  });

  it('sees a step within a second, and no reading in what was lost', () => {
    const batch = rows(120, 0);
    batch.volts[0]!.fill(110, 96);
    expect(readingsOf(batch, 10_240).map(({ volts }) => volts[0])).toEqual([
      120, 120, 120, 120, 110,
    ]);
    expect(readingsOf(batch, 10_240)[0]!.spanS).toBeCloseTo(0.2, 6);
    batch.amps[0]!.fill(Number.NaN, 0, 24);
    expect(readingsOf(batch, 10_240)).toHaveLength(4);
  });
});

describe('what would make it right', () => {
  const remedies = async (query = '') =>
    (await ask<Remedies>(`/sensors/${bay}/remedies${query}`)).is;

  it('stands on the description until arcs have shown the supply', async () => {
    expect((await ask(`/sensors/${bay}/remedies`)).status).toBe(404);
    hang();
    expect(await remedies()).toMatchObject({ supply: 'described', machine: 'Tern 100' });
    floor.supplied(bay, { supply, hangs });
    expect(await remedies()).toMatchObject({ supply: 'measured', openVolts: 121, needsVolts: 108 });
  });

  it('falls with the cord, and with a longer one further', async () => {
    hang();
    floor.supplied(bay, { supply, hangs });
    const volts = async (query: string) => (await remedies(query)).tried!.volts!;
    const none = await volts('?feet=0');
    const short = await volts('?awg=12&feet=25');
    expect(none).toBeGreaterThan(short);
    expect(short).toBeGreaterThan(await volts('?awg=12&feet=100'));
    expect(short).toBeGreaterThan(await volts('?awg=16&feet=25'));
    expect((await remedies()).now.volts).toBeCloseTo(short, 9);
    expect(await volts('?mm2=3.31&metres=7.62')).toBeCloseTo(short, 0);
  });

  it('refuses a cord that is none by what is wrong', async () => {
    hang();
    const wrong = await ask<Problem>(`/sensors/${bay}/remedies?awg=12`);
    expect(wrong).toMatchObject({ status: 400, is: { detail: expect.stringContaining('length') } });
    expect((await ask(`/sensors/${bay}/remedies?awg=77&feet=10`)).status).toBe(400);
  });
});

describe('a plan', () => {
  const machines = [{ ...plate, price: 900, processes: ['mig-steel'] }];
  const needs = [{ name: 'Sill', process: 'mig-steel' }];

  it('is worked out on the circuits of the shop, measured where they were', async () => {
    hang();
    floor.supplied(bay, { supply, hangs });
    const circuits = (await ask<PlannedCircuit[]>('/plan/circuits')).is;
    expect(circuits[0]).toMatchObject({ name: 'Bay 1', supply: { openVolts: 121, ohmsR: 0.3 } });
    const { status, is } = await ask<Plan>('/plan', { machines, circuits, needs });
    expect(status).toBe(200);
    expect(is.matrix).toHaveLength(1);
    expect(is.matrix[0]).toMatchObject({ machine: 'Tern 100', supply: 'measured' });
    expect(is.covers[0]!.need).toBe('Sill');
  });

  it('is refused by path, list by list', async () => {
    const wrong = await ask<Problem>('/plan', {
      machines: [{ ...machines[0], supply: [{ U1: -1, I1max: 20 }] }],
      circuits: [{ name: 'A', volts: 120, colour: 'red' }],
      needs: 'all',
    });
    expect(wrong).toMatchObject({ status: 400, is: { code: 'bad-request' } });
    for (const path of ['machines[0].supply[0].U1', 'circuits[0].colour', 'needs must be a list'])
      expect(wrong.is.detail).toContain(path);
    expect((await ask('/plan', { machines })).status).toBe(400);
  });

  it('that would keep the sensors waiting is left to the command', async () => {
    const many = Array.from({ length: 100 }, (_, at) => ({ name: `c${at}`, volts: 120 }));
    const more = Array.from({ length: 7 }, (_, at) => ({ ...machines[0], name: `m${at}` }));
    const { status, is } = await ask<Problem>('/plan', { machines: more, circuits: many, needs });
    expect(status).toBe(413);
    expect(is.detail).toContain('stiffline plan');
  });

  it('that is longer than is taken says how long it may be', async () => {
    const { status, is } = await ask<Problem>('/plan', { needs: 'x'.repeat(2 ** 21) });
    expect(status).toBe(413);
    expect(is.detail).toMatch(/^more than \d+ kB: no more is taken at once$/);
  });

  it('and checks stand in the OpenAPI document', async () => {
    const { is } = await ask<{ paths: Record<string, object> }>('/openapi.json');
    const paths = Object.keys(is.paths).join(' ');
    for (const path of [
      '/plan',
      '/plan/circuits',
      '/checks',
      '/checks/{id}',
      '/checks/{id}/choice',
    ])
      expect(paths).toContain(`/api/v1${path}`);
    expect(paths).toContain('/sensors/{sensor}/remedies');
  });
});
