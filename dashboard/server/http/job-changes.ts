import type { FastifyRequest } from 'fastify';
import type { JobView, SetUpView } from '../../../shared/protocol/http-jobs.ts';
import type { Said } from '../../../shared/rules/say.ts';
import { isRefused, type Refused } from '../live/jobs.ts';
import { audited } from '../people/audited.ts';
import { signature } from '../people/signature.ts';
import type { Store } from '../store/store.ts';
import { ProblemError } from './problems.ts';

/** @throws ProblemError for what was refused. */
export function done<T extends object>(answer: T | Refused): T {
  if (isRefused(answer)) throw new ProblemError(answer.no, answer.says);
  return answer;
}

interface Change {
  kind: 'job' | 'set-up' | 'coupon';
  /** Null: it is made now. */
  id: number | null;
  said(by: string): Said;
}

/** Makes a change in the person's name, with its line in the audit list. */
export function changed<View extends JobView | SetUpView>(
  store: Store,
  request: FastifyRequest,
  { kind, id, said }: Change,
  typed: { by?: string },
  work: (by: string) => View | Refused,
): View {
  return audited(store, request, (note) => {
    const by = signature(request, 'by', typed.by);
    const before = id === null ? null : record(store, kind, id);
    const view = done(work(by));
    const after = record(store, kind, id ?? madeId(kind, view));
    const job = 'job' in view ? view.job : view.id;
    note({ area: 'jobs', subject: `job ${job}`, ...said(by), before, after });
    return view;
  });
}

const madeId = (kind: Change['kind'], view: JobView | SetUpView): number =>
  kind === 'coupon' && 'job' in view ? view.coupons.at(-1)!.id : view.id;

function record({ jobs }: Store, kind: Change['kind'], id: number): object | null {
  if (kind === 'job') return jobs.job(id);
  return kind === 'set-up' ? jobs.setUp(id) : jobs.coupon(id);
}
