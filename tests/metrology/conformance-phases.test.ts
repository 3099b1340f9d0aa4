import { describe, expect, test } from 'vitest';
import { Meter } from '../../shared/metrology/meter.ts';
import { type RmsEvent, RmsEvents } from '../../shared/metrology/rms-events.ts';
import type { ChannelReading } from '../../shared/metrology/row.ts';
import { rateHz, sampled } from './conformance-signals.ts';

describe('each phase of three on its own zero crossings', () => {
  /** Shares of 230 V, 120° apart; `dipped` falls to a level for cycles that begin with its own. */
  function threePhases(f: number, dipped: number, level: number, at: number, cycles: number) {
    return Array.from({ length: 3 }, (_, phase) => (t: number) => {
      const cycle = f * t - phase / 3;
      const inside = phase === dipped && cycle >= at - 1e-9 && cycle < at + cycles - 1e-9;
      return Math.SQRT2 * 230 * (inside ? level : 1) * Math.sin(2 * Math.PI * cycle);
    });
  }

  function channelEvents(channels: readonly Float64Array[], blocks: readonly number[]) {
    const events: RmsEvent[] = [];
    const readings: number[] = [];
    const meter = new RmsEvents(
      { rateHz, pairs: 3, declaredVolts: 230 },
      { ended: (event) => events.push(event) },
    );
    const sink = {
      halfCycle() {},
      channel(reading: ChannelReading) {
        readings.push(reading.pair, reading.start, reading.end, reading.urms, reading.uhalf);
        meter.channel(reading);
      },
    };
    const whole = new Meter({ rateHz, pairs: 3, nominalHertz: null }, sink);
    for (let from = 0, n = 0; from < channels[0]!.length; n++) {
      const part = channels.map((each) => each.subarray(from, from + blocks[n % blocks.length]!));
      whole.push(part, part[0]!.length);
      from += part[0]!.length;
    }
    whole.end();
    meter.end();
    return { events, readings };
  }

  for (const f of [50, 60, 57.3]) {
    for (const dipped of [0, 1, 2]) {
      test(`1.5 cycles on phase ${dipped + 1} at ${f} Hz: residual within 0.2 %`, () => {
        for (const level of [0.1, 0.4, 0.7, 0.85]) {
          const signals = threePhases(f, dipped, level, 20, 1.5);
          const { events } = channelEvents(sampled(signals, 1), [4096]);
          expect(events.filter(({ kind }) => kind === 'dip')).toHaveLength(1);
          const dip = events.find(({ kind }) => kind === 'dip')!;
          expect(dip).toMatchObject({ extremeChannel: dipped, startChannel: dipped });
          expect(Math.abs(dip.volts / 230 - level)).toBeLessThan(0.002);
          expect(Math.abs(dip.seconds * f - 1.5)).toBeLessThan(1.01);
          expect(Math.abs((dip.start / rateHz) * f - (20 + dipped / 3))).toBeLessThan(0.51);
        }
      });
    }
  }

  test('however the stream is cut, the readings are the same bit for bit', () => {
    const channels = sampled(threePhases(50, 1, 0.5, 12, 3), 1);
    const whole = channelEvents(channels, [10_240]);
    for (const blocks of [[1], [7, 300], [1024, 1, 1, 64]])
      expect(channelEvents(channels, blocks)).toEqual(whole);
  });

  test('a dead phase is told on half cycles of the live ones', () => {
    const signals = threePhases(60, 0, 1, 0, 0).map((signal, n) => (n === 2 ? () => 0 : signal));
    const { events, readings } = channelEvents(sampled(signals, 1), [4096]);
    expect(events).toMatchObject([{ kind: 'dip', volts: 0, extremeChannel: 2 }]);
    const told = [0, 1, 2].map((pair) => readings.filter((x, n) => n % 5 === 0 && x === pair));
    for (const each of told) expect(Math.abs(each.length - 119)).toBeLessThanOrEqual(1);
  });
});
