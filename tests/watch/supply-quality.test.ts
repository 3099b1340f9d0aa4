import { describe, expect, test } from 'vitest';
import { Watch } from '../../shared/watch/watch.ts';

const rateHz = 2_000;
const hertz = 49.95;
const minutes = 2;

/**
 * Two minutes that can stand end to end: 230, 230 and 220 V with 39 changes of 0.894 % a minute,
 * which is Pst 1 for a 230 V lamp (IEC 61000-4-15, Table 5).
 */
function block(): Float64Array[] {
  const length = minutes * 60 * rateHz;
  return [230, 230, 220].flatMap((volts, phase) => [
    Float64Array.from({ length }, (_, n) => {
      const high = Math.floor((n / rateHz / 60) * 39) % 2 === 0;
      const angle = 2 * Math.PI * ((hertz * n) / rateHz - phase / 3);
      return Math.SQRT2 * volts * (1 + (high ? 0.5 : -0.5) * 0.00894) * Math.sin(angle);
    }),
    new Float64Array(length),
  ]);
}

function watchOver(times: number, frames: number, quality = true) {
  const channels = block();
  const watch = new Watch(
    {
      ...{ rateHz, pairs: 3, startedAt: null, nominalVolts: null, nominalHertz: null },
      ...{ plate: null, circuit: null, quality },
    },
    {},
  );
  for (let n = 0; n < times; n++)
    for (let from = 0; from < channels[0]!.length; from += frames) {
      const part = channels.map((each) => each.subarray(from, from + frames));
      watch.push(part, part[0]!.length);
    }
  watch.end();
  return watch.judgement('test');
}

describe('what facilities ask of a recording', () => {
  test('twenty minutes: flicker, unbalance and frequency are the record’s own', () => {
    const told = watchOver(11, 8_192);
    for (const each of told.flicker!) {
      // The first ten minutes hold the meter's settling: they are not whole.
      expect(each).toMatchObject({ plt: null, periods: 1 });
      expect(Math.abs(each!.pst - 1)).toBeLessThan(0.05);
    }
    // Three angles of 120°: what 220 V lack of 230 is a third of it in either other sequence.
    const share = (100 * 10) / (230 + 230 + 220);
    expect(told.unbalance!.u2Percent).toBeCloseTo(share, 3);
    expect(told.unbalance!.u0Percent).toBeCloseTo(share, 3);
    expect(told.unbalance!.periods).toBe(2);
    expect(told.frequency10s!.periods).toBeGreaterThan(120);
    expect(Math.abs(told.frequency10s!.lowestHertz - hertz)).toBeLessThan(0.01);
    expect(Math.abs(told.frequency10s!.highestHertz - hertz)).toBeLessThan(0.01);
  });

  test('a record that ends with its period holds it whole', () => {
    const [whole] = watchOver(10, 8_192).flicker!;
    expect(whole).toMatchObject({ periods: 1 });
    expect(Math.abs(whole!.pst - 1)).toBeLessThan(0.05);
  });

  test('cut otherwise it says the same, figure for figure', () => {
    const pick = ({ flicker, unbalance, frequency10s }: ReturnType<typeof watchOver>) => ({
      ...{ flicker, unbalance, frequency10s },
    });
    expect(pick(watchOver(11, 171))).toEqual(pick(watchOver(11, 240_000)));
  });

  test('two minutes hold no whole ten: nothing is said of them', () => {
    const told = watchOver(1, 8_192);
    expect(told.flicker).toEqual([null, null, null]);
    expect(told.unbalance).toBeNull();
    expect(told.frequency10s!.periods).toBeGreaterThan(10);
  });

  test('a watch that was not asked has no such keys', () => {
    expect(watchOver(1, 8_192, false)).not.toHaveProperty('flicker');
  });
});
