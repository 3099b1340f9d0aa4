import type { ArcPage } from '../../../../shared/protocol/http.ts';
import type { JobPage, JobView, SetUpView } from '../../../../shared/protocol/http-jobs.ts';
import type { DestructiveTest, SetUpSheet, VisualTest } from '../../../../shared/protocol/jobs.ts';
import { get, query, send } from '../parts/api.ts';

export const jobPage = (open: boolean | null, before: number | null) =>
  get<JobPage>(`/jobs${query({ open: open === null ? null : String(open), before })}`);
export const jobSheet = (id: number) => get<JobView>(`/jobs/${id}`);
export const openJob = (job: { number: string; vehicle: string; by: string }) =>
  send<JobView>('POST', '/jobs', job);
export const closeJob = (id: number, by: string) =>
  send<JobView>('POST', `/jobs/${id}/close`, { by });
export const jobArcs = (id: number, setUp: number | null, before: string | null) =>
  get<ArcPage>(`/jobs/${id}/arcs${query({ setUp, before, limit: 100 })}`);
export const timesPath = (id: number) => `/api/v1/jobs/${id}/times.csv`;

export const setUpSheet = (id: number) => get<SetUpView>(`/set-ups/${id}`);
export const beginSetUp = (job: number, wish: { sensor: string; sheet: SetUpSheet; by: string }) =>
  send<SetUpView>('POST', `/jobs/${job}/set-ups`, wish);
export const runClock = (id: number, run: boolean, by: string) =>
  send<SetUpView>('POST', `/set-ups/${id}/clock`, { run, by });
export const endSetUp = (id: number, by: string) =>
  send<SetUpView>('POST', `/set-ups/${id}/end`, { by });
export const beginCoupon = (id: number, knobs: string, by: string) =>
  send<SetUpView>('POST', `/set-ups/${id}/coupons`, knobs.trim() === '' ? { by } : { knobs, by });

export const keepArcs = (id: number, arcs: readonly number[], by: string) =>
  send<SetUpView>('PUT', `/coupons/${id}/arcs`, { arcs, by });
export const keepVisual = (id: number, test: VisualTest, by: string) =>
  send<SetUpView>('PUT', `/coupons/${id}/visual`, { test, by });
export const keepDestructive = (id: number, test: DestructiveTest, by: string) =>
  send<SetUpView>('PUT', `/coupons/${id}/destructive`, { test, by });
export const decide = (id: number, by: string) =>
  send<SetUpView>('POST', `/coupons/${id}/decision`, { by });
