import type { ArcEvidence, Rule, Setting } from './facts.ts';
import { advise, notAsked, type Reading } from './finding.ts';
import { limits } from './limits.ts';
import { say } from './say.ts';

const id = 'heat';
/** A tack of two 200 ms windows has settled; of a shorter one the strike is too large a part. */
export const leastHeatSeconds = 0.4;

/**
 * Power taken while the arc burns, against the band of the coupons that passed: says colder,
 * inside or hotter, not whether the weld is sound.
 */
export const heat: Rule<Setting & { arc: ArcEvidence }> = {
  id,
  asks: "arc power against the passed coupon's band: colder, inside, hotter",
  required: 'never',
  limits: [limits.couponBand],
  ask({ coupon, couponNote, arc, accuracy }) {
    if (!coupon) return [notAsked(id, limits.couponBand, couponNote ?? say('noCoupon'))];
    if (arc.endS - arc.startS < leastHeatSeconds)
      return [notAsked(id, limits.couponBand, say('arcTooShort'))];
    const watts = arc.channels.reduce((sum, channel) => sum + channel.meanWatts, 0);
    const half = Math.hypot(accuracy.volts, accuracy.amps) * watts;
    const measured: Reading = { value: watts, lo: watts - half, hi: watts + half };
    const [low, high] = coupon.watts;
    const cold = watts < (low + high) / 2;
    const limit = { ...limits.couponBand, value: cold ? low : high, unit: 'W' };
    return [
      advise(id, measured, limit, cold ? 'more' : 'less', (verdict) => ({
        ...(verdict === 'adequate'
          ? say('heatInside', { watts, low, high })
          : say('heatOutside', { watts, low, high, limit: limit.value, cold })),
        atS: [arc.startS, arc.endS],
      })),
    ];
  },
};
