import type { Finding } from '../protocol/judgement.ts';
import type { Setting } from './facts.ts';
import { compare, reading } from './finding.ts';
import { inVolts, limits } from './limits.ts';
import { say } from './say.ts';

/**
 * A voltage between the machine's terminals against U1 + 10 %. Says something only where it is too
 * high, or nearly so.
 */
export function tooHigh(
  { rated, accuracy }: Pick<Setting, 'rated' | 'accuracy'>,
  high: number | null,
  atS: [number, number] | null = null,
): Finding[] {
  if (rated === null || high === null) return [];
  const limit = inVolts(limits.plateHigh, rated.U1);
  const finding = compare('plate-voltage', reading(high, accuracy.volts), limit, 'less', () => ({
    ...say('voltageHigh', { high, limit: limit.value }),
    electrician: say('checkTaps'),
    atS,
    required: true,
  }));
  return finding.verdict === 'adequate' ? [] : [finding];
}
