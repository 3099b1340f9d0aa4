import type { Finding } from '../protocol/judgement.ts';
import type { Volts } from '../units.ts';
import type { Setting } from './facts.ts';
import { type Compared, compare, reading, type Words } from './finding.ts';
import { inVolts, limits } from './limits.ts';
import { say } from './say.ts';

/** Highest of the machine's loops. */
interface High {
  /** Just before the arc; null where that was not seen. */
  idle: Volts | null;
  /** Highest 200 ms while it burned. */
  welding: Volts;
  atS: [number, number];
}

/**
 * The voltage between the machine's terminals against U1 + 10 %. Says something only where it is
 * too high, or nearly so.
 */
export function tooHigh(
  { rated, accuracy }: Pick<Setting, 'rated' | 'accuracy'>,
  { idle, welding, atS }: High,
): Finding[] {
  if (rated === null) return [];
  const high = Math.max(idle ?? 0, welding);
  const limit = inVolts(limits.plateHigh, rated.U1);
  const measured = reading(high, accuracy.volts);
  const finding = compare('plate-voltage', measured, limit, 'less', (verdict) => ({
    ...(idle !== null && welding > idle
      ? rose(verdict, high, limit.value, idle)
      : { ...say('voltageHigh', { high, limit: limit.value }), electrician: say('checkTaps') }),
    atS,
    required: true,
  }));
  return finding.verdict === 'adequate' ? [] : [finding];
}

/** No load of its own raises a supply: something else did, and the taps may be right. */
const rose = (verdict: Compared, high: Volts, limit: Volts, idle: Volts): Words => ({
  ...(verdict === 'underpowered'
    ? say('voltageRose', { high, limit, idle })
    : say('voltageRoseNear', { high, limit, idle })),
  electrician: say('findSwell'),
});
