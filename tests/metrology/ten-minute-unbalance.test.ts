import { describe, expect, test } from 'vitest';
import { blankRow } from '../../shared/metrology/row.ts';
import {
  TenMinuteUnbalance,
  type UnbalanceRow,
} from '../../shared/metrology/ten-minute-unbalance.ts';

/** Half cycles of 10 samples at 50 Hz. */
const rateHz = 1_000;
const half = 10;

/** Rows of `seconds`, phases of given volts and degrees; rows that `lost` names are missing. */
function tell(
  seconds: number,
  phases: (second: number) => readonly (readonly [volts: number, degrees: number])[],
  startedAt: number | null = null,
  lost: (row: number) => boolean = () => false,
): UnbalanceRow[] {
  const told: UnbalanceRow[] = [];
  const meter = new TenMinuteUnbalance({ rateHz, nominalHertz: 50, startedAt }, (row) =>
    told.push({ ...row }),
  );
  const row = blankRow(3);
  row.locked = true;
  row.hertz = 50;
  for (let n = 0; n + 2 <= seconds * 100; n++) {
    if (lost(n)) continue;
    row.index = n;
    row.start = n * half;
    row.middle = row.start + half;
    row.end = row.middle + half;
    phases(row.start / rateHz).forEach(([volts, degrees], pair) => {
      const angle = (degrees * Math.PI) / 180 + n * Math.PI;
      row.u1re[pair] = volts * Math.cos(angle);
      row.u1im[pair] = volts * Math.sin(angle);
    });
    meter.halfCycle(row);
  }
  return told;
}

const balanced = [
  [230, 0],
  [230, -120],
  [230, 120],
] as const;
const lostPhase = [[0, 0], balanced[1], balanced[2]] as const;

describe('unbalance over ten minutes', () => {
  test('the root of the mean of the squares: half of the time 50 %, half of it 0', () => {
    const told = tell(601, (second) => (second < 300 ? lostPhase : balanced));
    expect(told).toMatchObject([{ start: 0, end: 600_000, whole: true }]);
    expect(told[0]!.u2).toBeCloseTo(0.5 * Math.SQRT1_2, 6);
    expect(told[0]!.u0).toBeCloseTo(0.5 * Math.SQRT1_2, 6);
  });

  test('phases wired in the other order are as balanced', () => {
    const [told] = tell(601, () => [balanced[0], balanced[2], balanced[1]]);
    expect(told!.u2).toBeLessThan(1e-9);
  });

  test('periods are the clock’s; the one that was under way is not whole', () => {
    const told = tell(901, () => balanced, 300_000_000);
    expect(told.map(({ end, whole }) => [end, whole])).toEqual([
      [300_000, false],
      [900_000, true],
    ]);
  });

  test('a cycle that is missing makes its period not whole, and no other', () => {
    const told = tell(
      1801,
      () => balanced,
      null,
      (row) => row === 70_000 || row === 70_001,
    );
    expect(told.map(({ whole }) => whole)).toEqual([true, false, true]);
  });
});
