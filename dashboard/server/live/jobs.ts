import type { Sensor } from '../../../shared/protocol/http.ts';
import type { JobLine, JobView, SetUpView } from '../../../shared/protocol/http-jobs.ts';
import type {
  DestructiveTest,
  NewJob,
  NewSetUp,
  VisualTest,
} from '../../../shared/protocol/jobs.ts';
import { couponBand } from '../../../shared/rules/coupon-band.ts';
import { couponStale, type Hung } from '../../../shared/rules/coupon-stale.ts';
import { accuracyOf, assumedSensor } from '../../../shared/watch/accuracy.ts';
import { limits } from '../limits.ts';
import type {
  CouponRecord,
  JobRecord,
  SetUpDetail,
  SetUpRecord,
  Sign,
} from '../store/jobs-store.ts';
import type { Store } from '../store/store.ts';
import { jobLine, jobView, judged, setUpView } from './job-views.ts';
import { type WeldingAt, weldingAt } from './welding-at.ts';

/** Why something was not done. */
export interface Refused {
  no: 'not-found' | 'not-now' | 'bad-request' | 'full';
  says: string;
}
export const isRefused = (answer: object): answer is Refused => 'no' in answer;

/** What job sheets need of the floor. */
export interface JobsSetup {
  store: Store;
  sensor: (id: string) => Sensor | null;
  /** A job changed, and with it what is set up at its sensors. */
  tell: (job: number, sensors: readonly string[]) => void;
  clock: () => number;
}

type Coupon = { coupon: CouponRecord; setUp: SetUpRecord };

/**
 * Job sheets: what is set up at each sensor, its clock, its coupons. All of it lives in the store,
 * so that a restart changes nothing; arcs ask by the time they struck.
 */
export class Jobs {
  readonly #setup: JobsSetup;

  constructor(setup: JobsSetup) {
    this.#setup = setup;
  }

  get #store() {
    return this.#setup.store.jobs;
  }

  /** A sensor whose clock is ahead of ours strikes its arcs now, not in days to come. */
  weldingAt(sensor: string, startedUs: number): WeldingAt | null {
    const ms = Math.max(0, Math.min(startedUs / 1_000, this.#setup.clock()));
    return weldingAt(this.#store, sensor, new Date(ms).toISOString());
  }

  open({ number, vehicle, by }: NewJob & { by: string }): JobView {
    const job = this.#store.addJob({ number, vehicle, opened: this.#sign(by), closed: null });
    return this.#job(job);
  }

  view(id: number): JobView | Refused {
    const job = this.#store.job(id);
    return job ? jobView(this.#store, job, this.#setup.clock()) : none('job', id);
  }

  line(job: JobRecord): JobLine {
    return jobLine(this.#store, job, this.#setup.clock());
  }

  viewSetUp(id: number): SetUpView | Refused {
    const setUp = this.#store.setUp(id);
    return setUp ? this.#view(setUp) : none('set-up', id);
  }

  close(id: number, by: string): JobView | Refused {
    const job = this.#store.job(id);
    if (!job) return none('job', id);
    if (job.closed) return this.#job(job);
    const closed = this.#sign(by);
    return this.#setup.store.together(() => {
      for (const setUp of this.#store.setUpsOf(id)) this.#finish(setUp, closed, 'job-closed');
      const done = { ...job, closed };
      this.#store.setJob(done);
      return this.#job(done);
    });
  }

  begin(jobId: number, { sensor, sheet, by }: NewSetUp & { by: string }): SetUpView | Refused {
    const job = this.#store.job(jobId);
    if (!job) return none('job', jobId);
    if (job.closed) return { no: 'not-now', says: `job ${job.number} is closed` };
    if (!this.#setup.sensor(sensor))
      return { no: 'not-found', says: `there is no sensor "${sensor}"` };
    if (this.#store.setUpsOf(jobId).length >= limits.setUpsOfJob)
      return { no: 'full', says: `a job has ${limits.setUpsOfJob} set-ups at the most` };
    return this.#setup.store.together(() => {
      const begun = this.#sign(by);
      const other = this.#store.openSetUp(sensor);
      if (other) this.#finish(other, begun, 'replaced');
      const runs = [{ from: begun.at, to: null }];
      const setUp = this.#store.addSetUp(jobId, sensor, { sheet, begun, ended: null, runs });
      if (other && other.job !== jobId) this.#setup.tell(other.job, [sensor]);
      return this.#told(setUp);
    });
  }

  end(id: number, by: string): SetUpView | Refused {
    const setUp = this.#store.setUp(id);
    if (!setUp) return none('set-up', id);
    return this.#told(this.#finish(setUp, this.#sign(by), 'done'));
  }

  /** Lets the set-up's clock run, or holds it. */
  run(id: number, run: boolean): SetUpView | Refused {
    const setUp = this.#store.setUp(id);
    if (!setUp) return none('set-up', id);
    if (setUp.ended) return over(setUp);
    return this.#told(this.#clocked(setUp, run));
  }

  beginCoupon(id: number, { knobs, by }: { knobs?: string; by: string }): SetUpView | Refused {
    const setUp = this.#store.setUp(id);
    if (!setUp) return none('set-up', id);
    if (setUp.ended) return over(setUp);
    const before = this.#store.couponsOf(id);
    if (before.length >= limits.couponsOfSetUp)
      return { no: 'full', says: `a set-up has ${limits.couponsOfSetUp} coupons at the most` };
    return this.#setup.store.together(() => {
      const begun = this.#sign(by);
      for (const coupon of before)
        if (!coupon.decided)
          this.#store.setCoupon({ ...coupon, decided: { ...begun, outcome: 'given-up' } });
      this.#store.addCoupon(id, {
        ...{ knobs: knobs ?? null, begun, hung: this.#hung(setUp.sensor) },
        ...{ welded: null, arcs: [], visual: null, destructive: null, decided: null },
        ...{ band: null, stale: null },
      });
      return this.#told(this.#clocked(setUp, true));
    });
  }

  /** The welding on a coupon is over; these arcs belong to it. */
  welded(id: number, arcs: readonly number[], by: string): SetUpView | Refused {
    return this.#undecided(id, ({ coupon }) => {
      const own = [...new Set(arcs)];
      const foreign = own.find((arc) => !this.#isOf(coupon, arc));
      if (foreign !== undefined)
        return { no: 'bad-request', says: `arcs has ${foreign}, which was not welded on it` };
      return { ...coupon, arcs: own, welded: coupon.welded ?? this.#sign(by) };
    });
  }

  visual(id: number, test: VisualTest, by: string): SetUpView | Refused {
    return this.#undecided(id, ({ coupon }) => ({
      ...coupon,
      visual: { test, ...this.#sign(by) },
    }));
  }

  destructive(id: number, test: DestructiveTest, by: string): SetUpView | Refused {
    return this.#undecided(id, ({ coupon }) => ({
      ...coupon,
      destructive: { test, ...this.#sign(by) },
    }));
  }

  /** What was entered stays from now on; a coupon that passed stops the clock. */
  decide(id: number, by: string): SetUpView | Refused {
    return this.#undecided(id, ({ coupon, setUp }) => {
      const { outcome, reasons } = judged(coupon, setUp);
      if (outcome === 'unfinished')
        return { no: 'not-now', says: reasons.map(({ says }) => says).join(' ') };
      const decided = { ...this.#sign(by), outcome };
      const welded = coupon.welded ?? this.#sign(by);
      if (outcome === 'failed') return { ...coupon, decided, welded };
      this.#clocked(setUp, false);
      const arcs = coupon.arcs.flatMap((arc) => this.#setup.store.arc(arc)?.arc ?? []);
      return { ...coupon, decided, welded, band: couponBand(arcs, accuracyOf(assumedSensor)) };
    });
  }

  /** Another machine, circuit or cord at a sensor: what was welded before says nothing of it. */
  assigned(sensor: string): void {
    const setUp = this.#store.openSetUp(sensor);
    if (!setUp) return;
    const now = this.#hung(sensor);
    const at = new Date(this.#setup.clock()).toISOString();
    let changed = false;
    for (const coupon of this.#store.couponsOf(setUp.id)) {
      const { decided, stale, hung } = coupon;
      if (stale || decided?.outcome === 'failed' || decided?.outcome === 'given-up') continue;
      const why = couponStale(hung, now);
      if (why.length === 0) continue;
      const told = { why: why.map(({ says }) => says), sayings: why.map(({ saying }) => saying) };
      this.#store.setCoupon({ ...coupon, stale: { at, ...told } });
      changed = true;
    }
    if (changed) this.#told(setUp);
  }

  #undecided(id: number, next: (of: Coupon) => CouponRecord | Refused): SetUpView | Refused {
    const coupon = this.#store.coupon(id);
    const setUp = coupon && this.#store.setUp(coupon.setUp);
    if (!coupon || !setUp) return none('coupon', id);
    if (coupon.decided) return { no: 'not-now', says: `coupon ${id} is decided: it stays so` };
    if (setUp.ended) return over(setUp);
    return this.#setup.store.together(() => {
      const after = next({ coupon, setUp });
      if (isRefused(after)) return after;
      this.#store.setCoupon(after);
      return this.#told(this.#store.setUp(setUp.id)!);
    });
  }

  #isOf(coupon: CouponRecord, arc: number): boolean {
    const weld = this.#setup.store.arc(arc)?.weld;
    return weld?.coupon === coupon.id && weld.on === 'coupon';
  }

  #finish(setUp: SetUpRecord, sign: Sign, why: NonNullable<SetUpDetail['ended']>['why']) {
    if (setUp.ended) return setUp;
    const done = { ...this.#clocked(setUp, false), ended: { ...sign, why } };
    this.#store.setSetUp(done);
    return done;
  }

  #clocked(setUp: SetUpRecord, run: boolean): SetUpRecord {
    const { at } = this.#sign('');
    const last = setUp.runs.at(-1);
    const running = last?.to === null;
    if (running === run) return setUp;
    const runs = run
      ? [...setUp.runs, { from: at, to: null }]
      : setUp.runs.map((each) => (each.to === null ? { ...each, to: at } : each));
    const next = { ...setUp, runs };
    this.#store.setSetUp(next);
    return next;
  }

  #hung(sensor: string): Hung {
    const at = this.#setup.sensor(sensor);
    return {
      plate: at?.plate?.plate ?? null,
      circuit: at?.circuit?.circuit ?? null,
      sensorAt: at?.at === 'machine' ? 'machine' : 'outlet',
    };
  }

  #sign(by: string): Sign {
    return { by, at: new Date(this.#setup.clock()).toISOString() };
  }

  #view(setUp: SetUpRecord): SetUpView {
    const { number = '' } = this.#store.job(setUp.job) ?? {};
    return setUpView(this.#store, setUp, number, this.#setup.clock());
  }

  #told(setUp: SetUpRecord): SetUpView {
    this.#setup.tell(setUp.job, [setUp.sensor]);
    return this.#view(setUp);
  }

  #job(job: JobRecord): JobView {
    const sensors = this.#store.setUpsOf(job.id).map(({ sensor }) => sensor);
    this.#setup.tell(job.id, [...new Set(sensors)]);
    return jobView(this.#store, job, this.#setup.clock());
  }
}

const none = (what: string, id: number): Refused => ({
  no: 'not-found',
  says: `there is no ${what} ${id}`,
});

const over = ({ id }: SetUpRecord): Refused => ({ no: 'not-now', says: `set-up ${id} has ended` });
