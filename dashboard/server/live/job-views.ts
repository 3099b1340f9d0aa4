import type { SetUpHere, SetUpStage } from '../../../shared/protocol/http.ts';
import type {
  CouponView,
  JobLine,
  JobView,
  SetUpView,
} from '../../../shared/protocol/http-jobs.ts';
import { type CouponJudged, judgeCoupon } from '../../../shared/rules/coupon.ts';
import { readClock, usualSetUp } from '../../../shared/rules/set-up-time.ts';
import type { CouponRecord, JobRecord, JobsStore, SetUpRecord } from '../store/jobs-store.ts';
import { joined } from './welding-at.ts';

/** Job sheets as the API tells them, out of what is stored. */
export function jobView(jobs: JobsStore, job: JobRecord, nowMs: number): JobView {
  const setUps = jobs.setUpsOf(job.id);
  const all = setUps.map((setUp) => setUpView(jobs, setUp, job.number, nowMs));
  return { ...lineOf(job, all), all };
}

export function jobLine(jobs: JobsStore, job: JobRecord, nowMs: number): JobLine {
  const all = jobs.setUpsOf(job.id).map(({ id, runs }) => ({
    coupons: jobs.couponsOf(id),
    clock: readClock(runs, nowMs),
  }));
  return lineOf(job, all);
}

function lineOf(
  { id, number, vehicle, opened, closed }: JobRecord,
  setUps: readonly { coupons: readonly unknown[]; clock: { seconds: number } }[],
): JobLine {
  return {
    ...{ id, number, vehicle, opened, closed },
    setUps: setUps.length,
    coupons: setUps.reduce((sum, { coupons }) => sum + coupons.length, 0),
    setUpSeconds: setUps.reduce((sum, { clock }) => sum + clock.seconds, 0),
  };
}

export function setUpView(
  jobs: JobsStore,
  setUp: SetUpRecord,
  jobNumber: string,
  nowMs: number,
): SetUpView {
  const { id, job, sensor, sheet, begun, ended, runs } = setUp;
  const coupons = jobs.couponsOf(id);
  const usual = usualSetUp(sheet.work.process);
  return {
    ...{ id, job, jobNumber, sensor, sheet, begun, ended },
    clock: { ...readClock(runs, nowMs), at: new Date(nowMs).toISOString() },
    usual: usual && { minutes: [...usual.minutes], source: usual.source },
    stage: stageOf(setUp, coupons),
    coupons: coupons.map((coupon) => couponView(coupon, setUp)),
    bandWatts: bandOf(coupons.filter(holds)),
  };
}

function couponView(coupon: CouponRecord, setUp: SetUpRecord): CouponView {
  const { id, knobs, begun, hung, welded, arcs, visual, destructive, decided, stale } = coupon;
  return {
    ...{ id, knobs, begun, welded, arcs, visual, destructive, decided, stale },
    machine: hung.plate?.name ?? null,
    circuit: hung.circuit?.name ?? null,
    ...judged(coupon, setUp),
    bandWatts: bandOf([coupon]),
  };
}

const bandOf = (coupons: readonly CouponRecord[]): [number, number] | null => {
  const [low, high] = joined(coupons)?.watts ?? [];
  return low === undefined || high === undefined ? null : [low, high];
};

/** By what was entered. That a coupon has gone stale since it passed takes nothing of it back. */
export function judged(coupon: CouponRecord, { sheet }: SetUpRecord): CouponJudged {
  return judgeCoupon({
    procedure: sheet.procedure,
    arcs: coupon.arcs.length,
    visual: coupon.visual?.test ?? null,
    destructive: coupon.destructive?.test ?? null,
    changed: coupon.stale !== null && coupon.decided === null,
  });
}

const holds = ({ decided, stale }: CouponRecord): boolean =>
  decided?.outcome === 'passed' && stale === null;

export function stageOf({ ended }: SetUpRecord, coupons: readonly CouponRecord[]): SetUpStage {
  if (ended) return 'ended';
  const last = coupons.at(-1);
  if (last && !last.decided) return last.welded ? 'testing' : 'welding';
  if (coupons.some(holds)) return 'vehicle';
  return coupons.some(({ decided }) => decided?.outcome === 'passed') ? 'stale' : 'no-coupon';
}

/** What is set up at a sensor now; null where nothing is. */
export function setUpHere(jobs: JobsStore, sensor: string): SetUpHere | null {
  const setUp = jobs.openSetUp(sensor);
  if (!setUp) return null;
  const { id, job } = setUp;
  const stage = stageOf(setUp, jobs.couponsOf(id));
  return { job, jobNumber: jobs.job(job)?.number ?? '', setUp: id, stage };
}
