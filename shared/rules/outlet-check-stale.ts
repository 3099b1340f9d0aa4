import type { Cord } from '../protocol/circuit.ts';
import type { CheckNow, CheckResult, CheckStaleness } from '../protocol/outlet-check.ts';
import { checkLimits } from './outlet-check-limits.ts';
import { gaugeName, lengthMetres, lengthName, squareMillimetres } from './wire.ts';

const dayMs = 86_400_000;

/** Whether a kept result still speaks of what is to be welded now. */
export function stalenessOf(result: CheckResult, now: CheckNow): CheckStaleness {
  const days = (Date.parse(now.date) - Date.parse(result.date)) / dayMs;
  const other = (what: string, then: string | null, here: string | null) =>
    then === here ? [] : [`Checked ${what} ${then ?? 'not said'}; now ${here ?? 'not said'}.`];
  const why = [
    ...other('on', result.circuit, now.circuit),
    ...other('with', result.machine, now.machine),
    ...other('at', result.place, now.place),
    ...(sameCords(result.cords, now.cords)
      ? []
      : [`Checked with ${cordWords(result.cords)}; now ${cordWords(now.cords)}.`]),
    ...tooOld(days),
  ];
  return { stale: why.length > 0, why };
}

function tooOld(days: number): string[] {
  if (!Number.isFinite(days)) return ['The date of the check cannot be read.'];
  if (days < 0) return ['The check is dated after today: look at the clocks.'];
  if (days <= checkLimits.staleDays) return [];
  return [
    `${Math.floor(days)} days old; over ${checkLimits.staleDays} it is done anew ` +
      `(${checkLimits.source}).`,
  ];
}

/** The same wires in any order; a foot more is another cord. */
export function sameCords(then: readonly Cord[], now: readonly Cord[]): boolean {
  const keys = (cords: readonly Cord[]) =>
    cords
      .map((cord) => `${squareMillimetres(cord).toFixed(3)} ${lengthMetres(cord).toFixed(2)}`)
      .sort()
      .join();
  return keys(then) === keys(now);
}

export const cordWords = (cords: readonly Cord[]): string =>
  cords.map((cord) => `${lengthName(cord)} of ${gaugeName(cord)}`).join(' and ') || 'no cord';
