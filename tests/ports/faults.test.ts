import { describe, expect, test } from 'vitest';
import type { Health } from '../../simulator/firmware/health.ts';
import type { Fault, FaultKind } from '../../simulator/ports/faults.ts';
import { FaultyAdc } from '../../simulator/ports/faulty-adc.ts';
import { FaultyClock } from '../../simulator/ports/faulty-clock.ts';
import { FaultyFlash, PowerCut } from '../../simulator/ports/faulty-flash.ts';
import { FaultyLink } from '../../simulator/ports/faulty-link.ts';
import { Rig, rateHz, stretches } from '../firmware/rig.ts';

const s = 1_000_000;
const arcs = [
  [2, 4],
  [6, 7],
] as const;

function rigWith(...faults: Fault[]): Rig {
  return new Rig({
    arcs,
    adc: (adc, clock) => new FaultyAdc(adc, clock, faults),
    clock: (clock) => new FaultyClock(clock, faults),
    link: (link, clock) => new FaultyLink(link, clock, faults),
    wrapFlash: (flash, clock) => new FaultyFlash(flash, clock, faults),
  });
}

/** What tells of a fault, and whether every frame of both arcs must have arrived all the same. */
interface Telling {
  fault: Fault;
  tells: (rig: Rig) => unknown;
  whole: boolean;
}

const counts = (name: keyof Health) => (rig: Rig) => rig.firmware.health[name] > 0;
const flags = (bit: number) => (rig: Rig) => rig.server.waves.some((wave) => wave.flags & bit);

const tellings: Record<Exclude<FaultKind, 'flash-power-cut'>, Telling> = {
  'adc-overrun': {
    fault: { kind: 'adc-overrun', from: 3 * s, frames: 200 },
    tells: (rig) =>
      counts('overruns')(rig) && rig.server.waves.reduce((sum, { lost }) => sum + lost, 0) === 200,
    whole: false,
  },
  'adc-stuck-bit': {
    fault: { kind: 'adc-stuck-bit', from: s, to: 9 * s, channel: 0, bit: 6 },
    tells: (rig) => counts('stuckBits')(rig) && flags(2)(rig),
    whole: true,
  },
  'adc-dropout': {
    fault: { kind: 'adc-dropout', from: s, to: 9 * s, channel: 0 },
    tells: (rig) => counts('dropouts')(rig) && flags(4)(rig),
    whole: true,
  },
  'adc-clip': {
    fault: { kind: 'adc-clip', from: s, to: 9 * s, channel: 1, gain: 9 },
    tells: (rig) => counts('clipped')(rig) && flags(1)(rig),
    whole: true,
  },
  'adc-swapped': {
    fault: { kind: 'adc-swapped', from: s, to: 9 * s, pair: 0 },
    tells: (rig) => counts('swapped')(rig),
    whole: false,
  },
  'adc-silent': {
    fault: { kind: 'adc-silent', from: 4.6 * s, to: 7.8 * s },
    tells: (rig) => counts('watchdog')(rig) && rig.restarts > 0,
    whole: false,
  },
  'clock-step': {
    fault: { kind: 'clock-step', from: 3 * s, micros: 60 * s },
    tells: counts('clockSteps'),
    whole: true,
  },
  'clock-drift': {
    fault: { kind: 'clock-drift', from: 0, to: 99 * s, ppm: 300 },
    tells: (rig) => rig.firmware.health.driftPpm > 100,
    whole: true,
  },
  'clock-backwards': {
    fault: { kind: 'clock-backwards', from: 3 * s, micros: s },
    tells: counts('clockSteps'),
    whole: true,
  },
  'link-lost': {
    fault: { kind: 'link-lost', from: 3 * s, to: 6.5 * s },
    tells: counts('linkRetries'),
    whole: true,
  },
  'link-slow': {
    fault: { kind: 'link-slow', from: 0, to: 99 * s, micros: 400_000 },
    tells: (rig) => rig.server.waves.length > 30,
    whole: true,
  },
  'link-duplicate': {
    fault: { kind: 'link-duplicate', from: 0, to: 99 * s },
    tells: (rig) => rig.server.repeats > 30,
    whole: true,
  },
  'link-reorder': {
    fault: { kind: 'link-reorder', from: 0, to: 9 * s },
    tells: (rig) => rig.server.waves.some(({ seq }, n, all) => n > 0 && seq < all[n - 1]!.seq),
    whole: true,
  },
  'link-half-open': {
    fault: { kind: 'link-half-open', from: 2.5 * s, to: 5 * s },
    tells: counts('resends'),
    whole: true,
  },
  'broker-restart': {
    fault: { kind: 'broker-restart', from: 3 * s },
    tells: counts('linkRetries'),
    whole: true,
  },
  'server-slow': {
    fault: { kind: 'server-slow', from: 0, to: 12 * s, micros: 6 * s },
    tells: counts('resends'),
    whole: true,
  },
  'flash-error': {
    fault: { kind: 'flash-error', from: 3 * s, to: 3.3 * s },
    tells: (rig) =>
      counts('flashErrors')(rig) && rig.server.waves.some(({ lost }) => lost >= 1_024),
    whole: false,
  },
};

describe('every fault of the closed list is told', () => {
  test.each(Object.entries(tellings))('%s', (_, { fault, tells, whole }) => {
    const sound = rigWith();
    sound.run(1);
    expect(tells(sound), 'without the fault there is nothing to tell').toBeFalsy();
    const rig = rigWith(fault);
    rig.run(40);
    expect(tells(rig)).toBeTruthy();
    expect(rig.server.faults).toEqual([]);
    expect(rig.firmware.delivered).toBe(true);
    const held = stretches(rig.server.waves);
    if (!whole) return;
    for (const [from, to] of arcs)
      expect(
        held.some(([first, end]) => first <= (from - 0.4) * rateHz && end >= (to + 0.4) * rateHz),
      ).toBe(true);
  });

  test('flash-power-cut: thrown through the firmware, which is no more', () => {
    const faults: Fault[] = [{ kind: 'flash-power-cut', write: 40 }];
    const rig = new Rig({
      arcs,
      wrapFlash: (flash, clock) => new FaultyFlash(flash, clock, faults),
    });
    expect(() => rig.run(5)).toThrow(PowerCut);
  });
});

describe('what is missing is told', () => {
  test('frames between two blocks of a capture are those said to be lost', () => {
    const rig = rigWith({ kind: 'adc-overrun', from: 3 * s, frames: 200 });
    rig.run(12);
    const waves = rig.server.waves.filter(({ first }) => first < 5 * rateHz);
    for (const [n, wave] of waves.entries()) {
      const before = waves[n - 1];
      if (before) expect(wave.first - (before.first + before.n)).toBe(wave.lost);
    }
  });

  test('a ring that ran over says from where on it still has records', () => {
    const rig = new Rig({ arcs: [[2, 50]] });
    rig.link.disconnect();
    rig.run(52);
    rig.link.connect();
    rig.run(20);
    const { dropped } = rig.firmware.health;
    expect(dropped).toBeGreaterThan(0);
    expect(rig.server.states[0]!.oldest).toBe(1_700_000_000_000 + dropped);
    expect(rig.firmware.delivered).toBe(true);
  });
});
