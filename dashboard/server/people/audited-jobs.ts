import type { FastifyInstance, RouteOptions } from 'fastify';
import type { JobsStore } from '../store/jobs-store.ts';
import type { Store } from '../store/store.ts';
import { audited } from './audited.ts';

type Kind = 'job' | 'set-up' | 'coupon';
/** What the route makes or changes, and the sentence for it. */
type Line = readonly [kind: Kind, says: (id: number, by: string) => string];

const lines: Readonly<Record<string, Line>> = {
  'POST /jobs': ['job', (id, by) => `${by} opened job sheet ${id}`],
  'POST /jobs/:id/close': ['job', (id, by) => `${by} closed job sheet ${id}`],
  'POST /jobs/:id/set-ups': ['set-up', (id, by) => `${by} began set-up ${id}`],
  'POST /set-ups/:id/clock': ['set-up', (id, by) => `${by} turned the clock of set-up ${id}`],
  'POST /set-ups/:id/end': ['set-up', (id, by) => `${by} ended set-up ${id}`],
  'POST /set-ups/:id/coupons': ['coupon', (id, by) => `${by} began coupon ${id}`],
  'PUT /coupons/:id/arcs': ['coupon', (id, by) => `${by} named the arcs of coupon ${id}`],
  'PUT /coupons/:id/visual': ['coupon', (id, by) => `${by} looked at coupon ${id}`],
  'PUT /coupons/:id/destructive': ['coupon', (id, by) => `${by} tested coupon ${id}`],
  'POST /coupons/:id/decision': ['coupon', (id, by) => `${by} decided on coupon ${id}`],
};

/**
 * Puts every change of the job routes that are registered in this scope into the audit list, with
 * the records before and after, and under the name of who is signed in, whatever was typed.
 */
export function auditJobs(scope: FastifyInstance, store: Store): void {
  scope.addHook('onRoute', (route) => {
    const line = lines[`${String(route.method)} ${route.url.replace(scope.prefix, '')}`];
    if (line) route.handler = noted(store, line, route.handler);
  });
}

function noted(
  store: Store,
  [kind, says]: Line,
  handler: RouteOptions['handler'],
): RouteOptions['handler'] {
  return function note(request, reply) {
    const body = request.body as { by?: string } | null;
    const { person } = request.who;
    if (body && typeof body === 'object' && person) body.by = person.name;
    const named = Number((request.params as { id?: number }).id ?? 0);
    return audited(store, request, (write) => {
      // A POST of a coupon is told by its set-up: what is there before is not what is made.
      const makes = request.routeOptions.url?.endsWith('s') === true && request.method === 'POST';
      const before = makes ? null : record(store.jobs, kind, named);
      const answer = handler.call(this, request, reply) as { id: number };
      const newest = kind === 'coupon' ? store.jobs.couponsOf(named).at(-1)?.id : answer.id;
      const id = makes ? (newest ?? 0) : named;
      const after = record(store.jobs, kind, id);
      const sentence = says(id, body?.by ?? '');
      if (JSON.stringify(before) !== JSON.stringify(after))
        write({ area: 'jobs', subject: `${kind} ${id}`, says: sentence, before, after });
      return answer;
    });
  };
}

function record(jobs: JobsStore, kind: Kind, id: number): object | null {
  if (kind === 'job') return jobs.job(id);
  return kind === 'set-up' ? jobs.setUp(id) : jobs.coupon(id);
}
