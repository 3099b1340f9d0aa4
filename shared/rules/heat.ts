import type { ArcEvidence, Rule, Setting } from './facts.ts';
import { advise, notAsked, type Reading } from './finding.ts';
import { limits } from './limits.ts';
import { percent } from './words.ts';

const id = 'heat';
/** A tack of two 200 ms windows has settled; of a shorter one the strike is too large a part. */
const leastSeconds = 0.4;

/**
 * Power taken while the arc burns, against the band of the coupons that passed: says colder,
 * inside or hotter, not whether the weld is sound.
 */
export const heat: Rule<Setting & { arc: ArcEvidence }> = {
  id,
  asks: "arc power against the passed coupon's band: colder, inside, hotter",
  required: 'never',
  limits: [limits.couponBand],
  ask({ coupon, arc, accuracy }) {
    if (!coupon)
      return [notAsked(id, limits.couponBand, 'No passed coupon is known to compare with.')];
    if (arc.endS - arc.startS < leastSeconds)
      return [notAsked(id, limits.couponBand, 'The arc was too short to compare with a coupon.')];
    const watts = arc.channels.reduce((sum, channel) => sum + channel.meanWatts, 0);
    const half = Math.hypot(accuracy.volts, accuracy.amps) * watts;
    const measured: Reading = { value: watts, lo: watts - half, hi: watts + half };
    const [low, high] = coupon.watts;
    const cold = watts < (low + high) / 2;
    const limit = { ...limits.couponBand, value: cold ? low : high, unit: 'W' };
    const band = `${low.toFixed(0)} to ${high.toFixed(0)} W`;
    return [
      advise(id, measured, limit, cold ? 'more' : 'less', (verdict) => ({
        says:
          verdict === 'adequate'
            ? `The arc took ${watts.toFixed(0)} W, inside the coupon's ${band}.`
            : `The arc took ${watts.toFixed(0)} W, ` +
              `${percent(Math.abs(watts / limit.value - 1), 0)} ` +
              `${watts < limit.value ? 'under' : 'over'} the nearer end of the coupon's ${band}: ` +
              `it may be ${cold ? 'colder' : 'hotter'}. Test a coupon at this setting.`,
        atS: [arc.startS, arc.endS],
      })),
    ];
  },
};
