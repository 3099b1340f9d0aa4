import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openBytes } from '../recording/helpers.ts';
import { feed, judged, plate240, watchOf } from './judged.ts';
import { quietSupply, type Synth, samples, truth } from './synth.ts';

/** A healthy dedicated outlet: three beads at 80 % of I1max, in closed form. */
const healthy: Synth = {
  ...quietSupply,
  seconds: 9,
  arcs: [
    { startS: 1.2, endS: 2.9, amps: 24 },
    { startS: 4.1, endS: 5.8, amps: 24 },
    { startS: 6.6, endS: 8.2, amps: 24 },
  ],
  noiseVolts: 0.2,
  noiseAmps: 0.05,
};
const circuit = { name: 'bay 2', volts: 240, dedicated: true, breakerAmps: 50 };

/** Judges the record with stretches of it lost; each is a place and a length in samples. */
function withLost(synth: Synth, lost: readonly (readonly [number, number])[]) {
  const channels = samples(synth);
  const watch = watchOf(synth.rateHz, 1, { plate: plate240, circuit });
  let at = 0;
  for (const [from, count] of [...lost].sort((a, b) => a[0] - b[0])) {
    if (from < at) continue;
    feed(
      watch,
      channels.map((each) => each.subarray(at, from)),
    );
    watch.skip(Math.min(count, channels[0].length - from), 'lost');
    at = from + count;
  }
  feed(
    watch,
    channels.map((each) => each.subarray(at)),
  );
  watch.end();
  return watch.judgement('test');
}

describe('samples that were lost are no voltage', () => {
  test('a healthy record stays free of low voltages, sags and other loads', () => {
    expect(judged(healthy.rateHz, samples(healthy), { plate: plate240, circuit }).verdict).toBe(
      'adequate',
    );
    const frames = healthy.seconds * healthy.rateHz;
    const place = fc.integer({ min: 0, max: frames - 1 });
    const short = fc.tuple(place, fc.integer({ min: 1, max: 40 }));
    const long = fc.tuple(place, fc.integer({ min: 100, max: healthy.rateHz }));
    const loaded = truth(healthy, 24).volts;
    fc.assert(
      fc.property(
        fc.array(fc.oneof(short, long), { minLength: 1, maxLength: 30 }),
        fc.constantFrom(50, 60),
        (lost, hertz) => {
          const judgement = withLost({ ...healthy, hertz }, lost);
          expect(['adequate', 'marginal', 'unproven']).toContain(judgement.verdict);
          expect(judgement.sags).toEqual([]);
          for (const { channels } of judgement.arcs)
            expect(channels[0]!.minVoltsHalfCycle).toBeGreaterThan(0.995 * loaded);
          for (const each of judgement.findings.filter(({ rule }) => rule === 'other-load'))
            expect(each.verdict).not.toBe('underpowered');
        },
      ),
      { numRuns: 40 },
    );
  });

  test('nor are those that a recording marks as missing in the middle of a bead', () => {
    const synth = { ...healthy, rateHz: 2000, noiseVolts: 0.05 };
    const [volts, amps] = samples(synth);
    const lines = Array.from(volts, (value, row) => {
      const there = row < 13_800 || row > 14_700;
      return `${row / 2000},${there ? value.toFixed(3) : 'nan'},${amps[row]!.toFixed(3)}`;
    });
    const reader = openBytes('a.csv', `t_s,v1_V,i1_A\n${lines.join('\n')}\n`);
    const watch = watchOf(2000, 1, { plate: plate240, circuit });
    for (let block = reader.next(); block; block = reader.next()) {
      watch.skip(block.gapFrames, 'lost');
      watch.push(block.channels, block.frames);
    }
    watch.end();
    const { verdict, arcs, sags } = watch.judgement('CSV');
    expect(verdict).toBe('unproven');
    expect(sags).toEqual([]);
    expect(arcs.map((arc) => arc.verdict)).toEqual(['adequate', 'adequate', 'unproven']);
    // 901 of the last bead's 3200 samples are not there.
    expect(arcs[2]!.lostFraction).toBeCloseTo(901 / 3200, 2);
  });
});
