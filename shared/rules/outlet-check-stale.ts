import type { Cord } from '../protocol/circuit.ts';
import type { CheckNow, CheckResult, CheckStaleness } from '../protocol/outlet-check.ts';
import { checkLimits } from './outlet-check-limits.ts';
import { type Said, say } from './say.ts';
import { lengthMetres, squareMillimetres } from './wire.ts';

const dayMs = 86_400_000;

/** Whether a kept result still speaks of what is to be welded now. */
export function stalenessOf(result: CheckResult, now: CheckNow): CheckStaleness {
  const days = (Date.parse(now.date) - Date.parse(result.date)) / dayMs;
  const other = (
    name: 'checkedOn' | 'checkedWith' | 'checkedAt',
    then: string | null,
    here: string | null,
  ) => (then === here ? [] : [say(name, { was: then, now: here })]);
  const why = [
    ...other('checkedOn', result.circuit, now.circuit),
    ...other('checkedWith', result.machine, now.machine),
    ...other('checkedAt', result.place, now.place),
    ...(sameCords(result.cords, now.cords)
      ? []
      : [say('checkedCords', { was: result.cords, now: [...now.cords] })]),
    ...tooOld(days),
  ];
  return {
    stale: why.length > 0,
    why: why.map(({ says }) => says),
    sayings: why.map(({ saying }) => saying),
  };
}

function tooOld(days: number): Said[] {
  if (!Number.isFinite(days)) return [say('checkUndated')];
  if (days < 0) return [say('checkOfTomorrow')];
  if (days <= checkLimits.staleDays) return [];
  return [say('checkOld', { days: Math.floor(days), most: checkLimits.staleDays })];
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
