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

  test('what is not final waits for its 200 ms', () => {
    const [first] = told(0.1);
    expect(first?.atS).toBeGreaterThan(startS + 0.2);
    expect(first?.atS).toBeLessThan(startS + 0.25);
    expect(first?.arc.verdict).not.toBe('underpowered');
  });
});
