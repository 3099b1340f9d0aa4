import type { ArcWeld } from '../../../shared/protocol/jobs.ts';
import { millimetres } from '../../../shared/rules/coupon.ts';
import type { CouponBand, Work } from '../../../shared/rules/facts.ts';
import { type Said, saidBy, say, sayAll } from '../../../shared/rules/say.ts';
import type { Welding } from '../../../shared/watch/contract.ts';
import type { CouponRecord, JobsStore, SetUpRecord } from '../store/jobs-store.ts';

/** What an arc is welded for, and what its heat is held against. */
export interface WeldingAt {
  weld: ArcWeld;
  welding: Welding;
}

/**
 * What was set up at a sensor at a moment, out of the store: an arc that comes late, or is judged
 * again after a restart, is held against what was in force when it struck.
 */
export function weldingAt(jobs: JobsStore, sensor: string, at: string): WeldingAt | null {
  const setUp = jobs.setUpAt(sensor, at);
  if (!setUp) return null;
  const coupons = jobs.couponsOf(setUp.id);
  const { id, job } = setUp;
  const jobNumber = jobs.job(job)?.number ?? '';
  const work = workOf(setUp);
  const weld = { job, jobNumber, setUp: id };
  const open = coupons.findLast((coupon) => weldedOn(coupon, at));
  if (open)
    return {
      weld: { ...weld, coupon: open.id, on: 'coupon' },
      welding: { work, coupon: null, couponNote: say('couponItself') },
    };
  const holding = coupons.filter((coupon) => passed(coupon, at) && !isStale(coupon, at));
  const last = holding.at(-1);
  if (!last)
    return {
      weld: { ...weld, coupon: null, on: 'untested' },
      welding: { work, coupon: null, couponNote: whyNone(coupons, at) },
    };
  const coupon = joined(holding);
  const couponNote = coupon ? null : say('couponTooShort');
  return {
    weld: { ...weld, coupon: last.id, on: 'vehicle' },
    welding: { work, coupon, couponNote },
  };
}

const weldedOn = ({ begun, welded, decided }: CouponRecord, at: string): boolean =>
  begun.at <= at && !(welded && welded.at <= at) && !(decided && decided.at <= at);

const passed = ({ decided }: CouponRecord, at: string): boolean =>
  decided?.outcome === 'passed' && decided.at <= at;

const isStale = ({ stale }: CouponRecord, at: string): boolean => stale !== null && stale.at <= at;

function whyNone(coupons: readonly CouponRecord[], at: string): Said {
  const stale = coupons.findLast((coupon) => passed(coupon, at) && isStale(coupon, at));
  if (!stale) return say('couponLacking');
  const { why, sayings } = stale.stale!;
  const reasons = why.map((says, index) => saidBy({ says, saying: sayings?.[index] }));
  return sayAll(say('couponHoldsNoLonger'), ...reasons, say('couponAnew'));
}

/** From the lowest to the highest power of all coupons that passed and hold. */
export function joined(coupons: readonly CouponRecord[]): CouponBand | null {
  const bands = coupons.flatMap(({ band }) => (band ? [band.watts] : []));
  if (bands.length === 0) return null;
  return {
    watts: [Math.min(...bands.map(([low]) => low)), Math.max(...bands.map(([, high]) => high))],
  };
}

function workOf({ sheet: { work, procedure } }: SetUpRecord): Work {
  const { process, pulse, wire, leastOutput = null, leastWeldAmps = null } = work;
  const { machineVolts, reference } = procedure;
  const asked = machineVolts === undefined ? null : { machineVolts, reference };
  const wireInches = wire ? millimetres(wire) / 25.4 : null;
  return { process, pulse, wireInches, asked, leastOutput, leastWeldAmps };
}
