import { describe, expect, test } from 'vitest';
import { openRecording } from '../../shared/recording/open.ts';
import type { RecordingReader } from '../../shared/recording/reader.ts';
import { ArraySource } from '../../shared/recording/source.ts';
import { scenarioOf } from '../../simulator/catalogue.ts';
import { createPlant } from '../../simulator/electrics/index.ts';
import type { Adc, AdcBlock } from '../../simulator/hal.ts';
import { countsOf, inOwnCounts, peaksOf, RecordedAdc } from '../../simulator/ports/recorded-adc.ts';
import { SimulatedAdc } from '../../simulator/ports/simulated-adc.ts';
import { VirtualClock } from '../../simulator/ports/virtual-clock.ts';

const rows = 4_000;
const volts = (n: number) => 170 * Math.sin((2 * Math.PI * 60 * n) / 2_000);
const amps = (n: number) => 3 * Math.sin((2 * Math.PI * 60 * n) / 2_000);

function csv(skip: (n: number) => boolean = () => false): RecordingReader {
  const lines = ['t_s,v1_V,i1_A'];
  for (let n = 0; n < rows; n++)
    if (!skip(n)) lines.push(`${(n / 2_000).toFixed(4)},${volts(n)},${amps(n)}`);
  const main = new ArraySource(new TextEncoder().encode(`${lines.join('\n')}\n`));
  return openRecording({ name: 'made.csv', main, sibling: () => null });
}

function recorded(clock: VirtualClock, skip?: (n: number) => boolean): RecordedAdc {
  return new RecordedAdc(csv(skip), countsOf(csv(skip), peaksOf(csv(skip))), clock);
}

function simulated(clock: VirtualClock): Adc {
  const scenario = scenarioOf('harbour-lane');
  const name = scenario.bays[0]!.sensors[0]!.name;
  return new SimulatedAdc(createPlant(scenario, 1, [name]).points[0]!, clock);
}

const kinds: [string, (clock: VirtualClock) => Adc][] = [
  ['simulated', simulated],
  ['recorded', recorded],
];

/** What every converter keeps. */
describe.each(kinds)('a %s converter', (_, make) => {
  test('hands over what is due, numbered and timed, and no more than fits', () => {
    const clock = new VirtualClock();
    const adc = make(clock);
    const { rateHz, pairs, scale } = adc.about;
    expect(scale).toHaveLength(2 * pairs);
    const into = new Int32Array(100 * 2 * pairs);
    const block: AdcBlock = { frames: 0, first: 0, micros: 0, lost: 0 };
    adc.read(into, block);
    expect(block.frames).toBe(0);
    clock.advance(1_000_000);
    let next = 0;
    for (adc.read(into, block); block.frames > 0; adc.read(into, block)) {
      expect(block.frames).toBeLessThanOrEqual(100);
      expect(block.first).toBe(next);
      expect(block.micros).toBeCloseTo((next * 1e6) / rateHz, 6);
      expect(block.lost).toBe(0);
      next += block.frames;
    }
    expect(next).toBe(rateHz);
  });
});

describe('a simulated converter', () => {
  test('read too late has lost what its buffer does not hold, and counts it', () => {
    const clock = new VirtualClock();
    const adc = simulated(clock);
    const block: AdcBlock = { frames: 0, first: 0, micros: 0, lost: 0 };
    clock.advance(12_000_000);
    adc.read(new Int32Array(6_000), block);
    expect(block.lost).toBe(2 * adc.about.rateHz);
    expect(block.first).toBe(block.lost);
  });
});

describe('a recorded converter', () => {
  const readAll = (adc: RecordedAdc, clock: VirtualClock) => {
    const into = new Int32Array(2 * 512);
    const block: AdcBlock = { frames: 0, first: 0, micros: 0, lost: 0 };
    const seen: { index: number; volts: number; amps: number }[] = [];
    let lost = 0;
    while (!adc.ended) {
      clock.advance(50_000);
      adc.read(into, block);
      lost += block.lost;
      for (let n = 0; n < block.frames; n++)
        seen.push({
          index: block.first + n,
          volts: into[2 * n]! * adc.about.scale[0]!,
          amps: into[2 * n + 1]! * adc.about.scale[1]!,
        });
    }
    return { seen, lost };
  };

  test('gives values back to a ten-millionth of full scale', () => {
    const clock = new VirtualClock();
    const { seen } = readAll(recorded(clock), clock);
    expect(seen).toHaveLength(rows);
    for (const { index, volts: u, amps: i } of seen) {
      expect(Math.abs(u - volts(index))).toBeLessThan(2e-5);
      expect(Math.abs(i - amps(index))).toBeLessThan(4e-7);
    }
  });

  test('tells a gap as frames lost, once it has passed', () => {
    const clock = new VirtualClock();
    const { seen, lost } = readAll(
      recorded(clock, (n) => n >= 1_000 && n < 1_300),
      clock,
    );
    expect(lost).toBe(300);
    expect(seen.at(-1)!.index).toBe(rows - 1);
    expect(seen.find(({ index }) => index >= 1_000)!.index).toBe(1_300);
  });

  test('waits while it is held', () => {
    const clock = new VirtualClock();
    const adc = recorded(clock);
    adc.held = true;
    clock.advance(1_000_000);
    const block: AdcBlock = { frames: 9, first: 0, micros: 0, lost: 0 };
    adc.read(new Int32Array(400), block);
    expect(block.frames).toBe(0);
    adc.held = false;
    adc.read(new Int32Array(400), block);
    expect(block.first).toBe(0);
    expect(block.frames).toBe(200);
  });

  test('a recording of values has no counts of its own', () => {
    expect(inOwnCounts(csv())).toBe(false);
  });
});
