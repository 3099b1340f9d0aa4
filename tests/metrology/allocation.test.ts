import { describe, expect, test } from 'vitest';
import { ArcDetector } from '../../shared/metrology/arc-detector.ts';
import { ArcFigures } from '../../shared/metrology/arc-figures.ts';
import { Duty } from '../../shared/metrology/duty.ts';
import { Meter } from '../../shared/metrology/meter.ts';
import { RapidChanges } from '../../shared/metrology/rapid-changes.ts';
import { RmsEvents } from '../../shared/metrology/rms-events.ts';
import type { HalfCycleRow } from '../../shared/metrology/row.ts';
import { collectionsOf } from './collections.ts';

const rateHz = 10_240;
const samples = 10_000_000;
/** A whole number of 60 Hz cycles, 80 of them with the arc on, pushed over and over. */
const period = 160 * 256;

function wave(): Float64Array[] {
  const length = period;
  const angle = (k: number) => (2 * Math.PI * 60 * k) / rateHz;
  const v = Float64Array.from({ length }, (_, k) => 170 * Math.sin(angle(k)));
  const i = Float64Array.from({ length }, (_, k) => (k < period / 2 ? 20 * Math.sin(angle(k)) : 0));
  return [v, i];
}

/**
 * The fewest of three goes. What allocates does so in every go; code that the compiler had not got
 * round to yet boxes its numbers in the first one only.
 */
async function steadyCollectionsOf(work: () => void): Promise<number> {
  let fewest = Number.POSITIVE_INFINITY;
  for (let go = 0; go < 3; go++) fewest = Math.min(fewest, await collectionsOf(work));
  return fewest;
}

function wholeChain(): Meter {
  const figures = new ArcFigures({ rateHz, pairs: 1 });
  const duty = new Duty({ rateHz, pairs: 1 });
  const detector = new ArcDetector(
    { rateHz },
    {
      began(start) {
        figures.began(start);
        duty.began(start);
      },
      ended(start, end) {
        figures.ended(start, end);
        duty.ended(start, end);
      },
    },
  );
  const options = { rateHz, pairs: 1, declaredVolts: 120 };
  const events = new RmsEvents(options, { ended() {} });
  const changes = new RapidChanges({ ...options, nominalHertz: 60 }, () => {});
  const sink = {
    halfCycle(row: HalfCycleRow) {
      figures.halfCycle(row);
      detector.halfCycle(row);
      duty.halfCycle(row);
      events.halfCycle(row);
      changes.halfCycle(row);
    },
  };
  return new Meter({ rateHz, pairs: 1, nominalHertz: 60, phasors: true }, sink);
}

describe('ten million samples', () => {
  const channels = wave();

  /** Pushes them in blocks of their own arrays. */
  const run = (meter: Meter) => {
    for (let warm = 0; warm < 40; warm++) meter.push(channels, period);
    return steadyCollectionsOf(() => {
      for (let done = 0; done < samples; done += period) meter.push(channels, period);
    });
  };

  const meterAt = (rate: number) =>
    new Meter({ rateHz: rate, pairs: 1, nominalHertz: 60, phasors: true }, { halfCycle() {} });

  test('cause few at 10 240/s: 117 000 half cycles, a few numbers each', async () => {
    expect(await run(meterAt(rateHz))).toBeLessThanOrEqual(8);
  });

  test('nor many in arcs, events, duty and figures beside it', async () => {
    expect(await run(wholeChain())).toBeLessThanOrEqual(12);
  });

  test('nor when pushed few at a time', async () => {
    const meter = wholeChain();
    const v = new Float64Array(16);
    const i = new Float64Array(16);
    const pair = [v, i];
    const push = (total: number) => {
      for (let done = 0; done < total; done += 16) {
        const at = done % period;
        for (let k = 0; k < 16; k++) {
          v[k] = channels[0]![at + k]!;
          i[k] = channels[1]![at + k]!;
        }
        meter.push(pair, 16);
      }
    };
    push(period * 4);
    expect(await steadyCollectionsOf(() => push(samples / 4))).toBeLessThanOrEqual(12);
  });

  // After the others: a change of rate leaves V8 at times in a loop that it entered half compiled,
  // where each half cycle boxes some numbers for good.
  test('nor any to speak of in the meter at 102 400/s', async () => {
    // The same samples are a supply of 60 Hz only at their own rate; ten times it follows 600 Hz,
    // so they are stretched: each cycle ten times as long.
    const long = channels.map((channel) =>
      channel.map((_, k) => channel[Math.floor(k / 10) + (k >= period / 2 ? period / 2 : 0)]!),
    );
    const meter = meterAt(10 * rateHz);
    for (let warm = 0; warm < 40; warm++) meter.push(long, period);
    const collections = await steadyCollectionsOf(() => {
      for (let done = 0; done < samples; done += period) meter.push(long, period);
    });
    // One boxed number a sample would be 160 MB: ten collections and more.
    expect(collections).toBeLessThanOrEqual(4);
  });

  test('while a control that makes one object a sample causes many', async () => {
    const kept: { v: number; i: number }[] = Array(4096).fill({ v: 0, i: 0 });
    const collections = await collectionsOf(() => {
      for (let k = 0; k < samples; k++) {
        kept[k % 4096] = { v: channels[0]![k % period]!, i: channels[1]![k % period]! };
      }
    });
    expect(collections).toBeGreaterThan(40);
  });
});
