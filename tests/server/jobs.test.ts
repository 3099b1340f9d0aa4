import type { FastifyInstance } from 'fastify';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { ArcPage, Problem } from '../../shared/protocol/http.ts';
import type { JobPage, JobView, SetUpView } from '../../shared/protocol/http-jobs.ts';
import { buildServer } from './built.ts';
import { about, bay, newArc } from './given.ts';

let app: FastifyInstance;
let store: MemoryStore;
let stop: () => Promise<void>;
beforeEach(async () => {
  const built = await buildServer(about());
  ({ app, store } = built);
  stop = () => built.close();
});
afterEach(() => stop());

async function ask<T>(method: 'GET' | 'POST' | 'PUT', url: string, payload?: object) {
  const answer = await app.inject({
    ...{ url: `/api/v1${url}`, method, ...(payload && { payload }) },
  });
  return { status: answer.statusCode, is: answer.json() as T };
}

const by = 'Ida';
const metal = { metal: 'HSS', thick: { mm: 1.2 } };
const sheet = {
  work: {
    ...{ process: 'mig-steel', joint: 'plug', pulse: false, position: 'flat' },
    sheets: [metal, metal],
  },
  procedure: { reference: 'SP-7', leastButton: { mm: 6 } },
};
const openJob = async (number = '17') =>
  (await ask<JobView>('POST', '/jobs', { number, vehicle: 'grey van', by })).is;
const beginSetUp = (job: number) =>
  ask<SetUpView>('POST', `/jobs/${job}/set-ups`, { sensor: bay, sheet, by });

it('jobs come by pages, newest first; one is refused by path and nothing is begun', async () => {
  for (const number of ['1', '2', '3']) await openJob(number);
  const { is: first } = await ask<JobPage>('GET', '/jobs?limit=2');
  expect(first.jobs.map(({ number }) => number)).toEqual(['3', '2']);
  const { is: last } = await ask<JobPage>('GET', `/jobs?limit=2&before=${first.next}`);
  expect(last).toMatchObject({ jobs: [{ number: '1' }], next: null });
  const unsigned = await ask<Problem>('POST', '/jobs', { number: '4', vehicle: 'van' });
  expect(unsigned.is.detail).toContain('by is needed');
  const odd = await ask<Problem>('POST', '/jobs', { number: '4', vehicle: 'van', by, colour: 1 });
  expect(odd).toMatchObject({ status: 400, is: { code: 'bad-request' } });
  expect(odd.is.detail).toContain('colour is not a known key');
  expect((await ask<JobPage>('GET', '/jobs')).is.jobs).toHaveLength(3);
  expect((await ask('GET', '/jobs/99')).status).toBe(404);
});

it('a coupon passes by both tests and its own arcs alone; then it stays', async () => {
  const { id: job } = await openJob();
  const { is: setUp } = await beginSetUp(job);
  expect(setUp).toMatchObject({ stage: 'no-coupon', clock: { running: true } });
  const begun = await ask<SetUpView>('POST', `/set-ups/${setUp.id}/coupons`, { by });
  const coupon = begun.is.coupons[0]!.id;
  const weld = { job, jobNumber: '17', setUp: setUp.id, coupon, on: 'coupon' as const };
  store.commit({
    ...{ blocks: [], rows: [], seconds: [], sags: [], cursors: [], supplies: [], otherLoads: [] },
    ...{ arcs: [{ ...newArc(0), weld }, newArc(20_000)], quarantined: [] },
  });
  const foreign = await ask<Problem>('PUT', `/coupons/${coupon}/arcs`, { arcs: [1, 2], by });
  expect(foreign.is.detail).toContain('arcs has 2');
  const welded = await ask<SetUpView>('PUT', `/coupons/${coupon}/arcs`, { arcs: [1], by });
  expect(welded.is.stage).toBe('testing');
  const early = await ask<Problem>('POST', `/coupons/${coupon}/decision`, { by });
  expect(early).toMatchObject({ status: 409, is: { code: 'not-now' } });
  const fine = { pass: true };
  const visual = { undercut: fine, porosity: fine, burnThrough: fine, size: fine };
  await ask('PUT', `/coupons/${coupon}/visual`, { test: visual, by });
  const torn = { method: 'peel', buttonLeft: true, pass: true };
  const half = await ask<Problem>('PUT', `/coupons/${coupon}/destructive`, {
    ...{ test: { ...torn, button: { mm: 6, inches: 0.2 } }, by },
  });
  expect(half.is.detail).toContain('test.button has mm and inches');
  const small = { test: { ...torn, button: { mm: 5 } }, by };
  const failing = await ask<SetUpView>('PUT', `/coupons/${coupon}/destructive`, small);
  expect(failing.is.coupons[0]).toMatchObject({ outcome: 'failed', decided: null });
  const large = { test: { ...torn, button: { mm: 6.2 } }, by };
  await ask('PUT', `/coupons/${coupon}/destructive`, large);
  const { is: passed } = await ask<SetUpView>('POST', `/coupons/${coupon}/decision`, { by });
  expect(passed).toMatchObject({ stage: 'vehicle', clock: { running: false } });
  const [low, high] = passed.bandWatts!;
  expect(low < 1_900 && high > 1_900).toBe(true);
  expect((await ask('PUT', `/coupons/${coupon}/destructive`, small)).status).toBe(409);
  const arcs = await ask<ArcPage>('GET', `/jobs/${job}/arcs?setUp=${setUp.id}`);
  expect(arcs.is.arcs.map(({ id }) => id)).toEqual([1]);
});

it('a sensor has one set-up; another ends it, and closing the job ends all', async () => {
  const { id: first } = await openJob('17');
  const { id: second } = await openJob('=18');
  const { is: old } = await beginSetUp(first);
  const { is: now } = await beginSetUp(second);
  const ended = await ask<SetUpView>('GET', `/set-ups/${old.id}`);
  expect(ended.is).toMatchObject({ stage: 'ended', ended: { why: 'replaced', by } });
  expect((await ask('POST', `/set-ups/${old.id}/coupons`, { by })).status).toBe(409);
  const paused = await ask<SetUpView>('POST', `/set-ups/${now.id}/clock`, { run: false, by });
  expect(paused.is.clock.running).toBe(false);
  const closed = await ask<JobView>('POST', `/jobs/${second}/close`, { by });
  expect(closed.is).toMatchObject({ closed: { by }, all: [{ stage: 'ended' }] });
  expect((await beginSetUp(second)).status).toBe(409);
  const csv = await app.inject(`/api/v1/jobs/${second}/times.csv`);
  expect(csv.headers['content-type']).toContain('text/csv');
  // A number that a spreadsheet would take for a formula is text there.
  expect(csv.payload.split('\r\n')[1]).toMatch(/^'=18,grey van,2,mig-steel,plug,SP-7,/);
  const { is: audit } = await ask<{ entries: { says: string; area: string }[] }>('GET', '/audit');
  expect(audit.entries.filter(({ area }) => area === 'jobs').length).toBeGreaterThanOrEqual(6);
});
