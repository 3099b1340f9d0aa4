import type { DestructiveTest, SetUpSheet, VisualTest } from '../../../shared/protocol/jobs.ts';
import type { Saying } from '../../../shared/protocol/judgement.ts';
import type { Hung } from '../../../shared/rules/coupon-stale.ts';
import type { CouponBand } from '../../../shared/rules/facts.ts';
import type { ClockRun } from '../../../shared/rules/set-up-time.ts';

/** Who said something, and when; RFC 3339. */
export interface Sign {
  by: string;
  at: string;
}

export interface JobDetail {
  number: string;
  vehicle: string;
  opened: Sign;
  closed: Sign | null;
}
export interface JobRecord extends JobDetail {
  id: number;
}

export interface SetUpDetail {
  sheet: SetUpSheet;
  begun: Sign;
  ended: (Sign & { why: 'done' | 'replaced' | 'job-closed' }) | null;
  runs: ClockRun[];
}
export interface SetUpRecord extends SetUpDetail {
  id: number;
  job: number;
  sensor: string;
}

export interface CouponDetail {
  knobs: string | null;
  begun: Sign;
  /** What hung on the sensor when it was begun. */
  hung: Hung;
  /** When the welding on it was over, and the arcs that a person said belong to it. */
  welded: Sign | null;
  arcs: number[];
  visual: (Sign & { test: VisualTest }) | null;
  destructive: (Sign & { test: DestructiveTest }) | null;
  decided: (Sign & { outcome: 'passed' | 'failed' | 'given-up' }) | null;
  /** Power of its arcs, once it passed. */
  band: CouponBand | null;
  /** Since when it says nothing of what is welded now, and why. */
  stale: { at: string; why: string[]; sayings?: Saying[] } | null;
}
export interface CouponRecord extends CouponDetail {
  id: number;
  setUp: number;
}

export interface JobQuery {
  open?: boolean | undefined;
  /** Only jobs before this id. */
  before?: number | undefined;
  limit: number;
}

/** Job sheets, their set-ups and coupons. Nothing is ever deleted. */
export interface JobsStore {
  addJob(detail: JobDetail): JobRecord;
  setJob(job: JobRecord): void;
  job(id: number): JobRecord | null;
  /** Newest first. */
  jobs(query: JobQuery): JobRecord[];

  addSetUp(job: number, sensor: string, detail: SetUpDetail): SetUpRecord;
  setSetUp(setUp: SetUpRecord): void;
  setUp(id: number): SetUpRecord | null;
  /** In the order they were begun. */
  setUpsOf(job: number): SetUpRecord[];
  /** The one that was under way at a sensor at this moment, RFC 3339; null where none was. */
  setUpAt(sensor: string, at: string): SetUpRecord | null;
  /** The one that has not ended; a sensor has one at the most. */
  openSetUp(sensor: string): SetUpRecord | null;

  addCoupon(setUp: number, detail: CouponDetail): CouponRecord;
  setCoupon(coupon: CouponRecord): void;
  coupon(id: number): CouponRecord | null;
  /** In the order they were begun. */
  couponsOf(setUp: number): CouponRecord[];
}
