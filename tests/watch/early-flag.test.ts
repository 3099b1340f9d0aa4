import { describe, expect, test } from 'vitest';
import type { WatchedArc } from '../../shared/watch/contract.ts';
import { feed, plate240, watchOf } from './judged.ts';
import { quietSupply, samples } from './synth.ts';

const rateHz = 10_240;
const startS = 1.503;

/** What is told of an arc while it burns, with the stream's time at which it is told. */
function told(ohmsR: number) {
  const synth = { ...quietSupply, rateHz, seconds: 3, ohmsR, noiseVolts: 0.1 };
  const arcs = [{ startS, endS: 2.3, amps: 24 }];
  const news: { atS: number; arc: WatchedArc['arc'] }[] = [];
  let fed = 0;
  const watch = watchOf(
    rateHz,
    1,
    { plate: plate240 },
    { arcGoesOn: ({ arc }) => news.push({ atS: fed / rateHz, arc }) },
  );
  const columns = samples({ ...synth, arcs });
  for (const step = 128; fed < columns[0].length; ) {
    const from = fed;
    fed += step;
    feed(
      watch,
      columns.map((column) => column.subarray(from, fed)),
      step,
    );
  }
  return news;
}

describe('an arc while it strikes', () => {
  test('a half cycle under the limit is told before the first 200 ms are over, once', () => {
    const news = told(2);
    const [first, second] = news;
    expect(first?.atS).toBeLessThan(startS + 0.15);
    expect(first?.arc.verdict).toBe('underpowered');
    const strike = first?.arc.findings.find(({ rule }) => rule === 'strike-voltage');
    expect(strike?.verdict).toBe('underpowered');
    // From there on it is judged five times a second, and stays what it was.
    expect(second!.atS - first!.atS).toBeGreaterThan(0.19);
    expect(news.map(({ arc }) => arc.verdict)).not.toContain('adequate');
  });

  test('one that only the other leg makes is told as soon', () => {
    // The first leg holds; the second falls from 120 V to 70 V, and the machine has 190 V.
    const frames = 3 * rateHz;
    const burns = (n: number) => n >= startS * rateHz && n < 2.3 * rateHz;
    const turn = (n: number) => Math.SQRT2 * Math.cos((2 * Math.PI * 60 * n) / rateHz);
    const column = (of: (n: number) => number) =>
      Float64Array.from({ length: frames }, (_, n) => of(n));
    const amps = (n: number) => (burns(n) ? 24 : 0.3) * turn(n);
    const columns = [
      column((n) => 120 * turn(n)),
      column(amps),
      column((n) => (burns(n) ? -70 : -120) * turn(n)),
      column((n) => -amps(n)),
    ];
    const toldS: number[] = [];
    let fed = 0;
    const watch = watchOf(
      rateHz,
      2,
      { plate: plate240 },
      { arcGoesOn: () => toldS.push(fed / rateHz) },
    );
    for (; fed < frames; ) {
      const from = fed;
      fed += 128;
      feed(
        watch,
        columns.map((each) => each.subarray(from, fed)),
        128,
      );
    }
    expect(toldS[0]).toBeLessThan(startS + 0.15);
  });

  test('what is not final waits for its 200 ms', () => {
    const [first] = told(0.1);
    expect(first?.atS).toBeGreaterThan(startS + 0.2);
    expect(first?.atS).toBeLessThan(startS + 0.25);
    expect(first?.arc.verdict).not.toBe('underpowered');
  });
});
