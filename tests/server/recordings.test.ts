import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { buildApp } from '../../dashboard/server/app.ts';
import { Access } from '../../dashboard/server/http/access.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { Problem } from '../../shared/protocol/http.ts';
import type { Check, KeptCheck } from '../../shared/protocol/http-check.ts';
import type { JudgedRecording } from '../../shared/protocol/http-recording.ts';
import { quietSupply, samples } from '../watch/synth.ts';
import { PlainWatch, stamp } from './given.ts';

let app: FastifyInstance;
let store: MemoryStore;

beforeAll(async () => {
  store = new MemoryStore();
  store.circuits.add({ name: 'Bay 2', volts: 240, branch: { awg: 10, feet: 40 } }, stamp);
  const supply = [{ U1: 240, I1max: 30 }];
  store.plates.add({ name: 'Skua 180', phases: 1, supply, ratings: [] }, stamp);
  const floor = new Floor(store, () => Date.now());
  const ingest = new Ingest({
    ...{ store, floor, link: { publish: () => {} }, say: () => {} },
    makeWatch: (...of) => new PlainWatch(...of),
  });
  const parts = { store, floor, ingest, access: new Access(false) };
  app = await buildApp({ ...parts, version: '0', webRoot: 'no-such-folder' });
}, 60_000);
afterAll(() => app.close());
vi.setConfig({ testTimeout: 90_000 });

const arcs = [{ startS: 1.2, endS: 4, amps: 24 }];
const [volts, amps] = samples({ ...quietSupply, rateHz: 2_000, seconds: 6, arcs });
const csv = `t_s,v1_V,i1_A\n${Array.from(volts, (v, n) =>
  [(n / 2_000).toFixed(7), v.toFixed(3), amps[n]!.toFixed(3)].join(),
).join('\n')}\n`;

const about = {
  ...{ circuit: 1, plate: 1, cords: [{ awg: 10, feet: 25 }], at: 'outlet' },
  keep: { person: 'Ida', place: 'Left lift' } as object | null,
};

/** The form as a browser sends it. */
async function bring<T>(files: Record<string, string>, more: object | string = {}) {
  const form = new FormData();
  form.set('about', typeof more === 'string' ? more : JSON.stringify({ ...about, ...more }));
  for (const [name, text] of Object.entries(files))
    form.append('recording', new File([text], name));
  const request = new Request('http://localhost/', { method: 'POST', body: form });
  const answer = await app.inject({
    ...{ method: 'POST', url: '/api/v1/recordings' },
    headers: { 'content-type': request.headers.get('content-type')! },
    payload: Buffer.from(await request.arrayBuffer()),
  });
  return { status: answer.statusCode, is: answer.json() as T };
}

describe('a recording that is brought', () => {
  it('is judged and kept as an outlet check, marked as one', async () => {
    const { status, is } = await bring<JudgedRecording>({ 'bay-2.csv': csv });
    expect(status).toBe(200);
    expect(is.judgement.arcs).toHaveLength(1);
    const { check } = is;
    expect(check).toMatchObject({ sensor: null, telling: { step: 'judged' } });
    expect(check!.result).toMatchObject({
      ...{ recording: 'bay-2.csv', person: 'Ida', place: 'Left lift', machine: 'Skua 180' },
      ...{ circuit: 'Bay 2', cords: [{ awg: 10, feet: 25 }], sensorAt: 'outlet' },
      verdict: 'adequate',
    });
    const one = (await app.inject(`/api/v1/checks/${check!.id}`)).json() as Check;
    expect(one.result).toEqual(check!.result);
    const [kept] = (await app.inject('/api/v1/checks')).json() as KeptCheck[];
    expect(kept).toMatchObject({ id: check!.id, sensor: null, recording: 'bay-2.csv' });
    // The circuit is described without that cord today.
    expect(kept!.staleness).toMatchObject({ stale: true });
  });

  it('is judged alone where nothing is to be kept', async () => {
    const before = store.checks({ limit: 99 }).length;
    const { is } = await bring<JudgedRecording>({ 'a.csv': csv }, { keep: null, plate: null });
    expect(is.check).toBeNull();
    expect(is.judgement.verdict).toBe('unproven');
    expect(store.checks({ limit: 99 })).toHaveLength(before);
  });

  it('is told of at the sensor where nobody knows where that was', async () => {
    const { is } = await bring<JudgedRecording>({ 'a.csv': csv }, { at: null });
    expect(is.judgement.place).toBe('unstated');
    expect(is.check!.result).toMatchObject({ sensorAt: 'unstated', verdict: 'adequate' });
    expect(is.check!.result!.cautions.join(' ')).toMatch(/Nobody said whether the sensor/);
    const known = await bring<JudgedRecording>({ 'a.csv': csv }, { at: 'machine', keep: null });
    expect(known.is.judgement.place).toBe('machine');
    const bare = { at: 'outlet', circuit: null, keep: null };
    expect((await bring<JudgedRecording>({ 'a.csv': csv }, bare)).is.judgement.place).toBe(
      'outlet',
    );
  });

  it('is refused by what is wrong, where, and what would be right', async () => {
    const refused = async (files: Record<string, string>, more: object | string = {}) => {
      const { status, is } = await bring<Problem>(files, more);
      expect(status).toBeGreaterThanOrEqual(400);
      expect(status).toBeLessThan(500);
      return is.detail;
    };
    expect(await refused({})).toContain('.cfg with its .dat');
    expect(await refused({ 'a.wav': csv })).toContain('.csv, .cfg');
    expect(await refused({ 'a.cfg': 'x' })).toContain('.dat');
    expect(await refused({ 'a.csv': 't_s,v1_V,amps\n0,1,2\n' })).toContain('amps');
    expect(await refused({ 'a.csv': csv.slice(0, csv.indexOf('\n', 50_000) + 1) })).toContain(
      'bead',
    );
    expect(await refused({ 'a.csv': csv }, 'not JSON')).toContain('no JSON');
    expect(await refused({ 'a.csv': csv }, { at: 'roof' })).toContain('about.at');
    expect(await refused({ 'a.csv': csv }, { plate: 7 })).toContain('no plate 7');
    expect(await refused({ 'a.csv': csv }, { cords: [{ awg: 12 }] })).toContain('no length');
    expect(await refused({ 'a.csv': csv, 'b.csv': csv, 'c.csv': csv })).toContain('3 files');
    const bare = await app.inject({ method: 'POST', url: '/api/v1/recordings', payload: {} });
    expect(bare.statusCode).toBe(400);
  });
});
