import { describe, expect, test } from 'vitest';
import { Timekeeper } from '../../simulator/firmware/timekeeper.ts';
import type { Fault } from '../../simulator/ports/faults.ts';
import { FaultyClock } from '../../simulator/ports/faulty-clock.ts';
import { VirtualClock } from '../../simulator/ports/virtual-clock.ts';

const epoch = 1_700_000_000_000_000;

function keep(faults: readonly Fault[], seconds: number, capturing = false) {
  const clock = new VirtualClock(epoch);
  const time = new Timekeeper(new FaultyClock(clock, faults), 10_240);
  for (let n = 0; n < seconds * 20; n++) {
    clock.advance(50_000);
    time.check(time.now(), capturing);
  }
  return { clock, time };
}

describe('the timekeeper', () => {
  test('says when a sample was taken, from its block', () => {
    const { time } = keep([], 2);
    time.anchor({ frames: 512, first: 10_240, micros: 1_000_000, lost: 0 });
    expect(time.ofSample(10_240)).toBe(epoch + 1_000_000);
    expect(time.ofSample(10_240 - 5_120)).toBe(epoch + 500_000);
    expect(time.steps).toBe(0);
  });

  test.each([3_600_000_000, -3_600_000_000])('counts a step of %d µs and follows it', (micros) => {
    const { time } = keep([{ kind: 'clock-step', from: 3_000_000, micros }], 6);
    expect(time.steps).toBe(1);
    expect(time.at(time.now())).toBe(epoch + 6_000_000 + micros);
  });

  test('holds its time while an arc is captured, whatever the clock does', () => {
    const { time } = keep([{ kind: 'clock-step', from: 3_000_000, micros: 9e9 }], 6, true);
    expect(time.steps).toBe(1);
    expect(time.at(time.now())).toBe(epoch + 6_000_000);
  });

  test('tells a drift in parts per million', () => {
    const drift = { kind: 'clock-drift', from: 0, to: 1e12, ppm: 80 } as const;
    const { time } = keep([drift], 120);
    expect(time.driftPpm).toBeCloseTo(80, 0);
    expect(time.steps).toBe(0);
  });

  test('a counter that runs backwards is counted, and time goes on from there', () => {
    const { time } = keep([{ kind: 'clock-backwards', from: 3_000_000, micros: 500_000 }], 6);
    expect(time.steps).toBeGreaterThan(0);
    const now = time.now();
    expect(time.now()).toBeGreaterThanOrEqual(now);
  });

  test("the server's word counts once it came, and its next one tells the drift", () => {
    const { clock, time } = keep([], 3);
    time.tell(time.now(), epoch + 3_000_000 + 250_000);
    expect(time.correctionMicros).toBe(250_000);
    expect(time.at(time.now())).toBe(epoch + 3_250_000);
    clock.advance(100_000_000);
    time.tell(time.now(), epoch + 103_250_000 + 5_000);
    expect(time.driftPpm).toBeCloseTo(50, 3);
  });
});
