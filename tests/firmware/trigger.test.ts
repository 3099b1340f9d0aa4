import { describe, expect, test } from 'vitest';
import { triggerAmps } from '../../simulator/firmware/limits.ts';
import { Trigger } from '../../simulator/firmware/trigger.ts';

/** Edges of a current, in seconds, whose r.m.s. value at a time is given. */
function edges(
  amps: (t: number) => number,
  seconds: number,
  { rateHz = 10_240, hertz = 60, bits = 16 } = {},
): number[] {
  const scale = bits === 24 ? 2e-5 : 0.005;
  const trigger = new Trigger({ pairs: 1, rateHz, bits, scale: [1, scale] });
  trigger.setAmps(triggerAmps.usual);
  const found: number[] = [];
  const counts = new Int32Array(2 * rateHz);
  for (let at = 0; at < seconds * rateHz; ) {
    const frames = trigger.wants;
    for (let n = 0; n < frames; n++) {
      const t = (at + n) / rateHz;
      const sine = Math.SQRT2 * Math.sin(2 * Math.PI * hertz * t);
      counts[2 * n + 1] = Math.round((amps(t) * sine) / scale);
    }
    const was = trigger.on;
    trigger.push(counts, 0, frames);
    at += frames;
    if (trigger.on !== was) found.push((at - trigger.backFrames) / rateHz);
  }
  return found;
}

const within = (from: number, to: number) => (t: number) => t >= from && t < to;
const flicker = (t: number) => 1 + 0.1 * Math.sin(2 * Math.PI * 7.3 * t);

describe('the trigger', () => {
  test.each([
    { rateHz: 10_240, hertz: 60, bits: 16 },
    { rateHz: 10_240, hertz: 50, bits: 16 },
    { rateHz: 1_000, hertz: 60, bits: 12 },
    { rateHz: 100_000, hertz: 50, bits: 24 },
  ])('finds an arc and its end at $rateHz/s, $hertz Hz, $bits bits', (setup) => {
    const arc = within(2, 3);
    const [rose, fell, ...more] = edges((t) => (arc(t) ? 15 * flicker(t) : 0.3), 5, setup);
    expect(rose).toBeGreaterThan(1.96);
    expect(rose).toBeLessThan(2.01);
    expect(fell).toBeGreaterThan(2.98);
    expect(fell).toBeLessThan(3.06);
    expect(more).toEqual([]);
  });

  test.each([0.05, 0.2, 0.5])('does not miss a tack of %d s, however small', (length) => {
    const arc = within(2, 2 + length);
    expect(edges((t) => (arc(t) ? 1.5 : 0.3), 4)).toHaveLength(2);
  });

  test('bridges extinctions of a short-circuiting wire, keeps tacks apart', () => {
    const shorts = (t: number) => (t % 0.1 < 0.03 ? 0.4 : 15 * flicker(t));
    const bead = within(2, 4);
    expect(edges((t) => (bead(t) ? shorts(t) : 0.3), 6)).toHaveLength(2);
    const tacks = (t: number) => t > 2 && t < 4.2 && t % 0.7 < 0.3;
    expect(edges((t) => (tacks(t) ? 15 : 0.3), 6).length).toBeGreaterThanOrEqual(6);
  });

  test('a machine switched on is idle half a second later, and its first arc stands alone', () => {
    const amps = (t: number) => (t < 1 ? 0 : t < 1.1 ? 9 : within(3, 4)(t) ? 15 * flicker(t) : 1);
    const found = edges(amps, 6);
    expect(found).toHaveLength(4);
    expect(found[1]).toBeLessThan(1.3);
    expect(found[2]).toBeCloseTo(3, 1);
  });

  test('a steady load is taken for idle in five seconds; an arc over it is seen', () => {
    const amps = (t: number) => (t < 1 ? 0 : 3) + (within(9, 10)(t) ? 12 * flicker(t) : 0);
    const found = edges(amps, 12);
    expect(found).toHaveLength(4);
    expect(found[2]).toBeCloseTo(9, 1);
  });

  test('an arc that burns at power-on is seen', () => {
    const found = edges((t) => (t < 1 ? 15 * flicker(t) : 0.3), 3);
    expect(found[0]).toBeLessThan(0.05);
    expect(found).toHaveLength(2);
  });

  test('a heavy steady load is kept for ten minutes, then taken for what it is', () => {
    const found = edges((t) => (t < 1 ? 0.3 : 15), 605, { rateHz: 1_000 });
    expect(found[1]! - found[0]!).toBeGreaterThan(590);
    expect(found).toHaveLength(2);
  });
});
