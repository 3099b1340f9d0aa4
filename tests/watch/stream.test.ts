import { describe, expect, test } from 'vitest';
import type { RowBatch, WatchedArc } from '../../shared/watch/contract.ts';
import { feed, judged, plate240, watchOf } from './judged.ts';
import { gaussian, quietSupply, samples } from './synth.ts';

const rate = 10_240;
const arcs = [
  { startS: 1.2, endS: 2.6, amps: 24 },
  { startS: 4, endS: 5.5, amps: 20 },
];
const synth = { ...quietSupply, seconds: 7, arcs, noiseVolts: 0.1, noiseAmps: 0.02 };

describe('a stream', () => {
  test('cut anywhere gives the same judgement, figure for figure', () => {
    const channels = samples(synth);
    const whole = judged(rate, channels, { plate: plate240 });
    for (const seed of [1, 2, 3]) {
      const random = gaussian(seed);
      const watch = watchOf(rate, 1, { plate: plate240 });
      for (let from = 0; from < channels[0].length; ) {
        const frames = Math.max(1, Math.round(Math.abs(random()) * 700));
        const block = channels.map((each) => each.subarray(from, from + frames));
        watch.push(block, block[0]!.length);
        from += frames;
      }
      watch.end();
      const cut = watch.judgement('test');
      expect(
        cut.arcs.map(({ channels: each, ...arc }) => [
          arc.startS,
          arc.endS,
          each[0]!.meanVolts,
          each[0]!.minVolts200ms,
        ]),
      ).toEqual(
        whole.arcs.map(({ channels: each, ...arc }) => [
          arc.startS,
          arc.endS,
          each[0]!.meanVolts,
          each[0]!.minVolts200ms,
        ]),
      );
      expect(cut.supply).toEqual(whole.supply);
      expect(cut.verdict).toBe(whole.verdict);
    }
  });

  test('tells rows in batches, in order, each its own arrays', () => {
    const batches: RowBatch[] = [];
    judged(rate, samples({ ...synth, seconds: 3, arcs: [] }), {}, { rows: (b) => batches.push(b) });
    const ends = batches.flatMap((batch) => [...batch.end]);
    expect(ends.length).toBeGreaterThanOrEqual(356);
    expect(ends.length).toBeLessThanOrEqual(360);
    expect(ends).toEqual([...ends].sort((a, b) => a - b));
    expect(new Set(batches.map((batch) => batch.end.buffer)).size).toBe(batches.length);
    for (const batch of batches) {
      expect(batch.volts[0]!.length).toBe(batch.end.length);
      for (const volts of batch.volts[0]!) expect(Math.abs(volts - 240)).toBeLessThan(0.3);
    }
  });

  test('live, with waveform around arcs alone, is judged as the recording of all of it', () => {
    const channels = samples(synth);
    const ended: WatchedArc[] = [];
    const watch = watchOf(rate, 1, { plate: plate240 }, { arcEnded: (arc) => ended.push(arc) });
    let at = 0;
    for (const { startS, endS } of arcs) {
      const from = Math.round((startS - 0.5) * rate);
      const to = Math.round((endS + 0.3) * rate);
      watch.skip(from - at, 'quiet');
      feed(
        watch,
        channels.map((each) => each.subarray(from, to)),
        512,
      );
      at = to;
    }
    watch.skip(channels[0].length - at, 'quiet');
    watch.end();
    const whole = judged(rate, channels, { plate: plate240 });
    expect(ended).toHaveLength(2);
    ended.forEach(({ arc }, index) => {
      const other = whole.arcs[index]!;
      expect(Math.abs(arc.startS - other.startS)).toBeLessThan(0.004);
      expect(Math.abs(arc.endS - other.endS)).toBeLessThan(0.004);
      expect(arc.channels[0]!.meanVolts / other.channels[0]!.meanVolts).toBeCloseTo(1, 3);
      expect(arc.channels[0]!.idleVolts! / other.channels[0]!.idleVolts!).toBeCloseTo(1, 3);
      expect(arc.lostFraction).toBe(0);
      expect(arc.verdict).toBe(other.verdict);
    });
    expect(watch.judgement('live').verdict).toBe(whole.verdict);
  });

  test('samples lost inside an arc are its lost fraction, and prove nothing', () => {
    const channels = samples(synth);
    const watch = watchOf(rate, 1, { plate: plate240 });
    const hole = { from: Math.round(1.8 * rate), to: Math.round(1.95 * rate) };
    feed(
      watch,
      channels.map((each) => each.subarray(0, hole.from)),
    );
    watch.skip(hole.to - hole.from, 'lost');
    feed(
      watch,
      channels.map((each) => each.subarray(hole.to)),
    );
    watch.end();
    const judgement = watch.judgement('test');
    expect(judgement.arcs).toHaveLength(2);
    expect(judgement.arcs[0]!.lostFraction).toBeCloseTo(0.15 / 1.4, 2);
    expect(judgement.arcs[0]!.verdict).toBe('unproven');
    expect(judgement.arcs[1]!.verdict).toBe('adequate');
    expect(judgement.verdict).toBe('unproven');
    expect(judgement.recording.durationS).toBeCloseTo(7, 9);
  });

  test('keeps no arcs unless told to, and says what its lists leave out', () => {
    const watch = watchOf(rate, 1, { plate: plate240, keep: 1 });
    feed(watch, samples(synth));
    watch.end();
    const judgement = watch.judgement('test');
    expect(judgement.arcs).toHaveLength(1);
    expect(judgement.cautions.join()).toMatch(/1 more arcs were judged/);
  });

  test('duty over ten minutes counts quiet time as idle', () => {
    const watch = watchOf(rate, 1, { plate: plate240 });
    const one = samples({ ...synth, seconds: 2, arcs: [{ startS: 0.6, endS: 1.6, amps: 24 }] });
    for (let n = 0; n < 70; n++) {
      feed(watch, one);
      watch.skip(8 * rate, 'quiet');
    }
    watch.end();
    const { duty } = watch.judgement('test');
    expect(duty.highestFraction).toBeCloseTo(0.1, 2);
    // √(0.1 · 24² + 0.9 · 0.3²) = 7.59 A.
    expect(duty.measuredI1effAmps).toBeCloseTo(7.59, 0);
  });

  test('a dead circuit, and one sample', () => {
    const dead = judged(rate, [new Float64Array(rate), new Float64Array(rate)], {
      plate: plate240,
    });
    expect(dead.verdict).toBe('unproven');
    expect(dead.nominal.volts).toBe(240);
    const one = judged(rate, [new Float64Array(1), new Float64Array(1)]);
    expect(one.arcs).toEqual([]);
    expect(one.verdict).toBe('unproven');
  });

  test('whatever comes, every figure is a number', () => {
    const random = gaussian(5);
    const strange: Record<string, (t: number) => [number, number]> = {
      direct: () => [240, 20],
      noise: () => [100 * random(), 10 * random()],
      square: (t) => [240 * Math.sign(Math.sin(377 * t)), 20 * Math.sign(Math.sin(377 * t))],
      'in bursts': (t) => [
        340 * Math.sin(377 * t) * (Math.floor(t) % 2),
        30 * Math.sin(377 * t) * (Math.floor(3 * t) % 2),
      ],
      'a chirp': (t) => [340 * Math.sin(6.28 * (40 + 3 * t) * t), 30 * Math.sin(250 * t)],
    };
    for (const [name, at] of Object.entries(strange)) {
      const frames = Array.from({ length: 5_000 }, (_, n) => at(n / 1_000));
      const channels = [0, 1].map((c) => Float64Array.from(frames, (frame) => frame[c]!));
      const watch = watchOf(1_000, 1, { plate: plate240 }, { arcGoesOn: () => {}, rows: () => {} });
      feed(
        watch,
        channels.map((each) => each.subarray(0, 3_000)),
        1_000,
      );
      watch.skip(700, 'lost');
      feed(
        watch,
        channels.map((each) => each.subarray(3_000)),
        1_000,
      );
      watch.end();
      JSON.stringify(watch.judgement('test'), (key, value: unknown) => {
        if (typeof value === 'number') expect(value, `${name}: ${key}`).toSatisfy(Number.isFinite);
        return value;
      });
    }
  });
});
