import type { Arc } from '../protocol/judgement.ts';
import type { Accuracy, CouponBand } from './facts.ts';
import { leastHeatSeconds } from './heat.ts';

/** Power that an arc took from the supply while it burned, all pairs, W. */
export const arcWatts = ({ channels }: Pick<Arc, 'channels'>): number =>
  channels.reduce((sum, channel) => sum + channel.meanWatts, 0);

/** What the sensor may be wrong by in a power, part of it. */
export const wattsHalfWidth = ({ volts, amps }: Accuracy): number => Math.hypot(volts, amps);

/**
 * Band of the arcs of coupons that passed: lowest and highest power, each widened by what the
 * sensor may be wrong by. Null where no arc lasted long enough for its power to have settled.
 */
export function couponBand(
  arcs: readonly Pick<Arc, 'channels' | 'durationS'>[],
  accuracy: Accuracy,
): CouponBand | null {
  const watts = arcs.filter(({ durationS }) => durationS >= leastHeatSeconds).map(arcWatts);
  if (watts.length === 0) return null;
  const half = wattsHalfWidth(accuracy);
  return { watts: [Math.min(...watts) * (1 - half), Math.max(...watts) * (1 + half)] };
}
