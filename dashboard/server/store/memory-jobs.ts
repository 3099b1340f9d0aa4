import { assert } from '../../../shared/assert.ts';
import type {
  CouponDetail,
  CouponRecord,
  JobDetail,
  JobQuery,
  JobRecord,
  JobsStore,
  SetUpDetail,
  SetUpRecord,
} from './jobs-store.ts';

/** Job sheets without a disk: what SQLite does, by plain search. */
export class MemoryJobs implements JobsStore {
  readonly #jobs: JobRecord[] = [];
  readonly #setUps: SetUpRecord[] = [];
  readonly #coupons: CouponRecord[] = [];
  readonly #known: (sensor: string) => boolean;

  constructor(known: (sensor: string) => boolean) {
    this.#known = known;
  }

  addJob(detail: JobDetail): JobRecord {
    return add(this.#jobs, { id: this.#jobs.length + 1, ...detail });
  }

  setJob(job: JobRecord): void {
    set(this.#jobs, job);
  }

  job(id: number): JobRecord | null {
    return structuredClone(this.#jobs[id - 1] ?? null);
  }

  jobs({ open, before, limit }: JobQuery): JobRecord[] {
    const found = this.#jobs
      .filter((job) => open === undefined || (job.closed === null) === open)
      .filter((job) => before === undefined || job.id < before)
      .reverse();
    return structuredClone(found.slice(0, limit));
  }

  addSetUp(job: number, sensor: string, detail: SetUpDetail): SetUpRecord {
    assert(this.#known(sensor), `${sensor} was saved before anything of it`);
    assert(this.#jobs[job - 1], `job ${job} was saved before anything of it`);
    return add(this.#setUps, { id: this.#setUps.length + 1, job, sensor, ...detail });
  }

  setSetUp(setUp: SetUpRecord): void {
    set(this.#setUps, setUp);
  }

  setUp(id: number): SetUpRecord | null {
    return structuredClone(this.#setUps[id - 1] ?? null);
  }

  setUpsOf(job: number): SetUpRecord[] {
    return structuredClone(this.#setUps.filter((setUp) => setUp.job === job));
  }

  setUpAt(sensor: string, at: string): SetUpRecord | null {
    const found = this.#setUps.findLast(
      ({ sensor: on, begun, ended }) =>
        on === sensor && begun.at <= at && (ended === null || ended.at > at),
    );
    return structuredClone(found ?? null);
  }

  openSetUp(sensor: string): SetUpRecord | null {
    const found = this.#setUps.findLast((setUp) => setUp.sensor === sensor && !setUp.ended);
    return structuredClone(found ?? null);
  }

  addCoupon(setUp: number, detail: CouponDetail): CouponRecord {
    assert(this.#setUps[setUp - 1], `set-up ${setUp} was saved before anything of it`);
    return add(this.#coupons, { id: this.#coupons.length + 1, setUp, ...detail });
  }

  setCoupon(coupon: CouponRecord): void {
    set(this.#coupons, coupon);
  }

  coupon(id: number): CouponRecord | null {
    return structuredClone(this.#coupons[id - 1] ?? null);
  }

  couponsOf(setUp: number): CouponRecord[] {
    return structuredClone(this.#coupons.filter((coupon) => coupon.setUp === setUp));
  }
}

function add<T>(all: T[], one: T): T {
  all.push(structuredClone(one));
  return one;
}

function set<T extends { id: number }>(all: T[], one: T): void {
  if (all[one.id - 1]) all[one.id - 1] = structuredClone(one);
}
