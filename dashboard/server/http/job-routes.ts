import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import type { FastifyRequest } from 'fastify';
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
import { audited } from '../people/audited.ts';
import { signature } from '../people/signature.ts';
import type { Store } from '../store/store.ts';
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

/** Makes a change in the person's name, with its line in the audit list. */
function changed<T extends object & { id: number }>(
  store: Store,
  request: FastifyRequest,
  typed: { by?: string },
  says: string,
  work: (by: string) => T | Refused,
): T {
  return audited(store, request, (note) => {
    const after = done(work(signature(request, 'by', typed.by)));
    const job = 'job' in after ? after.job : after.id;
    note({ area: 'jobs', subject: `job ${job}`, says, before: null, after: typed });
    return after;
  });
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
      (request, reply) => {
        const job = must(readNewJob(request.body));
        reply.code(201);
        const says = `opened job ${job.number}`;
        return changed(store, request, job, says, (by) => floor.jobs.open({ ...job, by }));
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
        return changed(store, request, body, 'closed the job', (by) => floor.jobs.close(id, by));
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
        const says = `began a set-up at ${body.sensor}`;
        const { id } = request.params;
        return changed(store, request, body, says, (by) => jobs.begin(id, { ...body, by }));
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
      (request) => {
        const body = must(readClockWish(request.body));
        const { id } = request.params;
        const says = `let the clock of set-up ${id} ${body.run ? 'run' : 'stand'}`;
        return changed(store, request, body, says, () => jobs.run(id, body.run));
      },
    );
    app.post(
      '/set-ups/:id/end',
      {
        ...readHere,
        schema: { params: idPath, body: Signed, response: { 200: SetUpView, ...no }, tags },
      },
      (request) => {
        const body = must(readSigned(request.body));
        const { id } = request.params;
        return changed(store, request, body, `ended set-up ${id}`, (by) => jobs.end(id, by));
      },
    );
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
        const says = `began a coupon of set-up ${id}`;
        return changed(store, request, body, says, (by) => jobs.beginCoupon(id, { ...body, by }));
      },
    );
  };

/** What a person says of a coupon, until it is decided. */
export const couponRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function coupons(app) {
    const { jobs } = floor;
    app.put(
      '/coupons/:id/arcs',
      {
        ...readHere,
        schema: { params: idPath, body: CouponArcs, response: { 200: SetUpView, ...no }, tags },
      },
      (request) => {
        const body = must(readCouponArcs(request.body));
        const { id } = request.params;
        const says = `said which arcs are of coupon ${id}`;
        return changed(store, request, body, says, (by) => jobs.welded(id, body.arcs, by));
      },
    );
    app.put(
      '/coupons/:id/visual',
      {
        ...readHere,
        schema: { params: idPath, body: NewVisual, response: { 200: SetUpView, ...no }, tags },
      },
      (request) => {
        const body = must(readNewVisual(request.body));
        const { id } = request.params;
        const says = `entered the visual test of coupon ${id}`;
        return changed(store, request, body, says, (by) => jobs.visual(id, body.test, by));
      },
    );
    app.put(
      '/coupons/:id/destructive',
      {
        ...readHere,
        schema: { params: idPath, body: NewDestructive, response: { 200: SetUpView, ...no }, tags },
      },
      (request) => {
        const body = must(readNewDestructive(request.body));
        const { id } = request.params;
        const says = `entered the destructive test of coupon ${id}`;
        return changed(store, request, body, says, (by) => jobs.destructive(id, body.test, by));
      },
    );
    app.post(
      '/coupons/:id/decision',
      {
        ...readHere,
        schema: { params: idPath, body: Signed, response: { 200: SetUpView, ...no }, tags },
      },
      (request) => {
        const body = must(readSigned(request.body));
        const { id } = request.params;
        return changed(store, request, body, `decided coupon ${id}`, (by) => jobs.decide(id, by));
      },
    );
  };
