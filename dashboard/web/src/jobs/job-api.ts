import type { ArcPage } from '../../../../shared/protocol/http.ts';
import type { JobPage, JobView, SetUpView } from '../../../../shared/protocol/http-jobs.ts';
import type { DestructiveTest, SetUpSheet, VisualTest } from '../../../../shared/protocol/jobs.ts';
import { get, query, send } from '../parts/api.ts';
import { signedBy } from '../people/your-name.tsx';

/** A change in the name of who is here; refused where nobody's is known. */
const signed = async <T>(method: 'PUT' | 'POST', path: string, body: object) =>
  send<T>(method, path, { ...body, ...signedBy('by') });

export const jobPage = (open: boolean | null, before: number | null) =>
  get<JobPage>(`/jobs${query({ open: open === null ? null : String(open), before })}`);
export const jobSheet = (id: number) => get<JobView>(`/jobs/${id}`);
export const openJob = (job: { number: string; vehicle: string }) =>
  signed<JobView>('POST', '/jobs', job);
export const closeJob = (id: number) => signed<JobView>('POST', `/jobs/${id}/close`, {});
export const jobArcs = (id: number, setUp: number | null, before: string | null) =>
  get<ArcPage>(`/jobs/${id}/arcs${query({ setUp, before, limit: 100 })}`);
export const timesPath = (id: number) => `/api/v1/jobs/${id}/times.csv`;

export const setUpSheet = (id: number) => get<SetUpView>(`/set-ups/${id}`);
export const beginSetUp = (job: number, wish: { sensor: string; sheet: SetUpSheet }) =>
  signed<SetUpView>('POST', `/jobs/${job}/set-ups`, wish);
export const runClock = (id: number, run: boolean) =>
  signed<SetUpView>('POST', `/set-ups/${id}/clock`, { run });
export const endSetUp = (id: number) => signed<SetUpView>('POST', `/set-ups/${id}/end`, {});
export const beginCoupon = (id: number, knobs: string) =>
  signed<SetUpView>('POST', `/set-ups/${id}/coupons`, knobs.trim() === '' ? {} : { knobs });

export const keepArcs = (id: number, arcs: readonly number[]) =>
  signed<SetUpView>('PUT', `/coupons/${id}/arcs`, { arcs });
export const keepVisual = (id: number, test: VisualTest) =>
  signed<SetUpView>('PUT', `/coupons/${id}/visual`, { test });
export const keepDestructive = (id: number, test: DestructiveTest) =>
  signed<SetUpView>('PUT', `/coupons/${id}/destructive`, { test });
export const decide = (id: number) => signed<SetUpView>('POST', `/coupons/${id}/decision`, {});
