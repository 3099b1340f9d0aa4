import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { type TSchema, Type } from 'typebox';
import { ArcPage, Problem } from '../../../shared/protocol/http.ts';
import { JobPage, JobView, SetUpView } from '../../../shared/protocol/http-jobs.ts';
import {
  ClockWish,
  CouponArcs,
  NewCoupon,
  NewDestructive,
  NewJob,
  NewSetUp,
  NewVisual,
  Signed,
} from '../../../shared/protocol/jobs.ts';
import {
  readClockWish,
  readCouponArcs,
  readNewCoupon,
  readNewDestructive,
  readNewJob,
  readNewSetUp,
  readNewVisual,
  readSigned,
} from '../../../shared/protocol/read-jobs.ts';
import { say } from '../../../shared/rules/say.ts';
import { limits } from '../limits.ts';
import { arcPage, cursorPattern } from './arc-page.ts';
import { changed, done } from './job-changes.ts';
import { jobTimes } from './job-times.ts';
import { paged } from './paged.ts';
import { idPath, must, type Parts, readHere } from './routes.ts';

const tags = ['jobs'];
const no = { 400: Problem, 404: Problem, 409: Problem };
const list = Type.Object({
  open: Type.Optional(Type.Boolean()),
  before: Type.Optional(Type.Integer({ minimum: 1 })),
  limit: Type.Optional(Type.Integer({ minimum: 1, maximum: limits.jobsPage })),
});
const arcList = Type.Object({
  setUp: Type.Optional(Type.Integer({ minimum: 1 })),
  before: Type.Optional(Type.String({ pattern: cursorPattern })),
  limit: Type.Optional(Type.Integer({ minimum: 1, maximum: limits.arcsPage })),
});

/** Job sheets: the list, one with all its set-ups, its arcs and its times. */
export const jobRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function jobs(app) {
    app.get(
      '/jobs',
      { schema: { querystring: list, response: { 200: JobPage }, tags } },
      ({ query: { open, before, limit = 30 } }) => {
        const { page, next } = paged(
          limit,
          (most) => store.jobs.jobs({ open, before, limit: most }),
          ({ id }) => id,
        );
        return { jobs: page.map((job) => floor.jobs.line(job)), next };
      },
    );
    app.post(
      '/jobs',
      { ...readHere, schema: { body: NewJob, response: { 201: JobView, ...no }, tags } },
      (request, reply) => {
        const job = must(readNewJob(request.body));
        reply.code(201);
        const said = (by: string) => say('jobOpened', { by, job: job.number });
        const of = { kind: 'job', id: null, said } as const;
        return changed(store, request, of, job, (by) => floor.jobs.open({ ...job, by }));
      },
    );
    app.get(
      '/jobs/:id',
      { schema: { params: idPath, response: { 200: JobView, 404: Problem }, tags } },
      ({ params: { id } }) => done(floor.jobs.view(id)),
    );
    app.post(
      '/jobs/:id/close',
      {
        ...readHere,
        schema: { params: idPath, body: Signed, response: { 200: JobView, ...no }, tags },
      },
      (request) => {
        const { id } = request.params;
        const body = must(readSigned(request.body));
        const said = (by: string) => say('jobClosed', { by });
        const of = { kind: 'job', id, said } as const;
        return changed(store, request, of, body, (by) => floor.jobs.close(id, by));
      },
    );
    app.get(
      '/jobs/:id/arcs',
      {
        schema: {
          ...{ params: idPath, querystring: arcList, tags },
          response: { 200: ArcPage, 404: Problem },
        },
      },
      ({ params: { id }, query: { setUp, before, limit = 50 } }) => {
        done(floor.jobs.view(id));
        return arcPage(store, { job: id, setUp, before, limit });
      },
    );
    const csv = 'text/csv; charset=utf-8';
    const file = { description: 'A file', content: { [csv]: { schema: Type.String() } } };
    const times = { params: idPath, response: { 200: file, 404: Problem }, tags };
    app.get('/jobs/:id/times.csv', { schema: times }, (request, reply) => {
      const job = done(floor.jobs.view(request.params.id));
      const name = `set-up-times-${job.id}.csv`;
      reply.type(csv).header('content-disposition', `attachment; filename="${name}"`);
      return jobTimes(job);
    });
  };

/** A word on one set-up or coupon, answered with the set-up as it is then. */
const takes = <Body extends TSchema>(body: Body) => ({
  ...readHere,
  schema: { params: idPath, body, response: { 200: SetUpView, ...no }, tags },
});

/** Set-ups: begun, their clock, ended; and their coupons, from the first weld to the decision. */
export const setUpRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function setUps(app) {
    const { jobs } = floor;
    app.post(
      '/jobs/:id/set-ups',
      {
        ...readHere,
        schema: { params: idPath, body: NewSetUp, response: { 201: SetUpView, ...no }, tags },
      },
      (request, reply) => {
        const body = must(readNewSetUp(request.body));
        reply.code(201);
        const { id } = request.params;
        const said = (by: string) => say('setUpBegun', { by, sensor: body.sensor });
        const of = { kind: 'set-up', id: null, said } as const;
        return changed(store, request, of, body, (by) => jobs.begin(id, { ...body, by }));
      },
    );
    app.get(
      '/set-ups/:id',
      { schema: { params: idPath, response: { 200: SetUpView, 404: Problem }, tags } },
      ({ params: { id } }) => done(jobs.viewSetUp(id)),
    );
    app.post('/set-ups/:id/clock', takes(ClockWish), (request) => {
      const body = must(readClockWish(request.body));
      const { id } = request.params;
      const said = (by: string) => say('clockSet', { by, setUp: id, run: body.run });
      const of = { kind: 'set-up', id, said } as const;
      return changed(store, request, of, body, () => jobs.run(id, body.run));
    });
    app.post('/set-ups/:id/end', takes(Signed), (request) => {
      const body = must(readSigned(request.body));
      const { id } = request.params;
      const said = (by: string) => say('setUpEnded', { by, setUp: id });
      const of = { kind: 'set-up', id, said } as const;
      return changed(store, request, of, body, (by) => jobs.end(id, by));
    });
    app.post(
      '/set-ups/:id/coupons',
      {
        ...readHere,
        schema: { params: idPath, body: NewCoupon, response: { 201: SetUpView, ...no }, tags },
      },
      (request, reply) => {
        const body = must(readNewCoupon(request.body));
        reply.code(201);
        const { id } = request.params;
        const said = (by: string) => say('couponBegun', { by, setUp: id });
        const of = { kind: 'coupon', id: null, said } as const;
        return changed(store, request, of, body, (by) => jobs.beginCoupon(id, { ...body, by }));
      },
    );
  };

/** What a person says of a coupon, until it is decided. */
export const couponRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function coupons(app) {
    const { jobs } = floor;
    app.put('/coupons/:id/arcs', takes(CouponArcs), (request) => {
      const body = must(readCouponArcs(request.body));
      const { id } = request.params;
      const said = (by: string) => say('couponArcs', { by, coupon: id });
      const of = { kind: 'coupon', id, said } as const;
      return changed(store, request, of, body, (by) => jobs.welded(id, body.arcs, by));
    });
    app.put('/coupons/:id/visual', takes(NewVisual), (request) => {
      const body = must(readNewVisual(request.body));
      const { id } = request.params;
      const said = (by: string) => say('couponVisual', { by, coupon: id });
      const of = { kind: 'coupon', id, said } as const;
      return changed(store, request, of, body, (by) => jobs.visual(id, body.test, by));
    });
    app.put('/coupons/:id/destructive', takes(NewDestructive), (request) => {
      const body = must(readNewDestructive(request.body));
      const { id } = request.params;
      const said = (by: string) => say('couponTorn', { by, coupon: id });
      const of = { kind: 'coupon', id, said } as const;
      return changed(store, request, of, body, (by) => jobs.destructive(id, body.test, by));
    });
    app.post('/coupons/:id/decision', takes(Signed), (request) => {
      const body = must(readSigned(request.body));
      const { id } = request.params;
      const said = (by: string) => say('couponDecided', { by, coupon: id });
      const of = { kind: 'coupon', id, said } as const;
      return changed(store, request, of, body, (by) => jobs.decide(id, by));
    });
  };
