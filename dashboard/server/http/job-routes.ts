import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Type } from 'typebox';
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
import { limits } from '../limits.ts';
import { isRefused, type Refused } from '../live/jobs.ts';
import { arcPage, cursorPattern } from './arc-page.ts';
import { jobTimes } from './job-times.ts';
import { ProblemError } from './problems.ts';
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

function done<T extends object>(answer: T | Refused): T {
  if (isRefused(answer)) throw new ProblemError(answer.no, answer.says);
  return answer;
}

/** Job sheets: the list, one with all its set-ups, its arcs and its times. */
export const jobRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function jobs(app) {
    app.get(
      '/jobs',
      { schema: { querystring: list, response: { 200: JobPage }, tags } },
      ({ query: { open, before, limit = 30 } }) => {
        const found = store.jobs.jobs({ open, before, limit: limit + 1 });
        const page = found.slice(0, limit);
        const next = found.length > limit ? page.at(-1)!.id : null;
        return { jobs: page.map((job) => floor.jobs.line(job)), next };
      },
    );
    app.post(
      '/jobs',
      { ...readHere, schema: { body: NewJob, response: { 201: JobView, ...no }, tags } },
      ({ body }, reply) => {
        reply.code(201);
        return floor.jobs.open(must(readNewJob(body)));
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
      ({ params: { id }, body }) => done(floor.jobs.close(id, must(readSigned(body)).by)),
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
    app.get('/jobs/:id/times.csv', { schema: { params: idPath, tags } }, (request, reply) => {
      const job = done(floor.jobs.view(request.params.id));
      const name = `set-up-times-${job.id}.csv`;
      return reply
        .type('text/csv; charset=utf-8')
        .header('content-disposition', `attachment; filename="${name}"`)
        .send(jobTimes(job));
    });
  };

/** Set-ups: begun, their clock, ended; and their coupons, from the first weld to the decision. */
export const setUpRoutes = ({ floor }: Parts): FastifyPluginAsyncTypebox =>
  async function setUps(app) {
    const { jobs } = floor;
    app.post(
      '/jobs/:id/set-ups',
      {
        ...readHere,
        schema: { params: idPath, body: NewSetUp, response: { 201: SetUpView, ...no }, tags },
      },
      ({ params: { id }, body }, reply) => {
        const begun = done(jobs.begin(id, must(readNewSetUp(body))));
        reply.code(201);
        return begun;
      },
    );
    app.get(
      '/set-ups/:id',
      { schema: { params: idPath, response: { 200: SetUpView, 404: Problem }, tags } },
      ({ params: { id } }) => done(jobs.viewSetUp(id)),
    );
    app.post(
      '/set-ups/:id/clock',
      {
        ...readHere,
        schema: { params: idPath, body: ClockWish, response: { 200: SetUpView, ...no }, tags },
      },
      ({ params: { id }, body }) => done(jobs.run(id, must(readClockWish(body)).run)),
    );
    app.post(
      '/set-ups/:id/end',
      {
        ...readHere,
        schema: { params: idPath, body: Signed, response: { 200: SetUpView, ...no }, tags },
      },
      ({ params: { id }, body }) => done(jobs.end(id, must(readSigned(body)).by)),
    );
    app.post(
      '/set-ups/:id/coupons',
      {
        ...readHere,
        schema: { params: idPath, body: NewCoupon, response: { 201: SetUpView, ...no }, tags },
      },
      ({ params: { id }, body }, reply) => {
        const begun = done(jobs.beginCoupon(id, must(readNewCoupon(body))));
        reply.code(201);
        return begun;
      },
    );
  };

/** What a person says of a coupon, until it is decided. */
export const couponRoutes = ({ floor }: Parts): FastifyPluginAsyncTypebox =>
  async function coupons(app) {
    const { jobs } = floor;
    app.put(
      '/coupons/:id/arcs',
      {
        ...readHere,
        schema: { params: idPath, body: CouponArcs, response: { 200: SetUpView, ...no }, tags },
      },
      ({ params: { id }, body }) => {
        const { arcs, by } = must(readCouponArcs(body));
        return done(jobs.welded(id, arcs, by));
      },
    );
    app.put(
      '/coupons/:id/visual',
      {
        ...readHere,
        schema: { params: idPath, body: NewVisual, response: { 200: SetUpView, ...no }, tags },
      },
      ({ params: { id }, body }) => {
        const { test, by } = must(readNewVisual(body));
        return done(jobs.visual(id, test, by));
      },
    );
    app.put(
      '/coupons/:id/destructive',
      {
        ...readHere,
        schema: { params: idPath, body: NewDestructive, response: { 200: SetUpView, ...no }, tags },
      },
      ({ params: { id }, body }) => {
        const { test, by } = must(readNewDestructive(body));
        return done(jobs.destructive(id, test, by));
      },
    );
    app.post(
      '/coupons/:id/decision',
      {
        ...readHere,
        schema: { params: idPath, body: Signed, response: { 200: SetUpView, ...no }, tags },
      },
      ({ params: { id }, body }) => done(jobs.decide(id, must(readSigned(body)).by)),
    );
  };
