import { describe, expect, test } from 'vitest';
import { ChannelWatch, flag } from '../../simulator/firmware/channel-watch.ts';

const rateHz = 10_240;
const about = { pairs: 1, rateHz, bits: 16, scale: [0.015, 0.005] };

/** Looks at seconds of volts and amps given in counts; answers the watch and the last block. */
function look(
  volts: (t: number, n: number) => number,
  amps: (t: number, n: number) => number,
  seconds = 6,
  atRest = true,
) {
  const watch = new ChannelWatch(about);
  const counts = new Int32Array(2 * 512);
  for (let at = 0; at < seconds * rateHz; at += 512) {
    for (let n = 0; n < 512; n++) {
      counts[2 * n] = volts((at + n) / rateHz, at + n);
      counts[2 * n + 1] = amps((at + n) / rateHz, at + n);
    }
    watch.push(counts, 512, atRest);
  }
  return { watch, counts };
}

const sine =
  (peak: number, hertz: number, offset = 0) =>
  (t: number) =>
    Math.round(peak * Math.sin(2 * Math.PI * hertz * t) + offset);
const clean = sine(11_000, 60);
const idle = sine(200, 60);

describe('the channel watch', () => {
  test('has nothing to say of sound channels', () => {
    expect(look(clean, idle).watch.flags).toBe(0);
    expect(look(sine(11_000, 50), () => 0).watch.flags).toBe(0);
  });

  test.each([49.7, 50, 59.93, 60, 60.4])('learns an offset to the count at %d Hz', (hertz) => {
    const { watch, counts } = look(sine(11_000, hertz, 37), sine(200, hertz, -12));
    expect([...watch.offsets]).toEqual([37, -12]);
    const mean = counts.filter((_, n) => n % 2 === 0).reduce((sum, count) => sum + count, 0);
    expect(Math.abs(mean / 512)).toBeLessThan(2_500);
  });

  test('learns no offset while an arc burns, nor one that is a defect', () => {
    expect([...look(sine(9_000, 60, 37), idle, 6, false).watch.offsets]).toEqual([0, 0]);
    expect([...look(sine(9_000, 60, 900), idle).watch.offsets]).toEqual([0, 0]);
  });

  test('a count at the stop stays there, and is told', () => {
    const clipped = (t: number) => Math.max(-32_768, Math.min(32_767, sine(40_000, 60, 30)(t)));
    const { watch, counts } = look(clipped, idle);
    expect(watch.flags & flag.clipped).toBe(flag.clipped);
    expect(watch.clippedCounts).toBeGreaterThan(1_000);
    expect(Math.max(...counts)).toBe(32_767);
  });

  test.each([0, 3, 5, 9])('finds bit %i stuck', (bit) => {
    const stuck = (t: number) => clean(t) | (1 << bit);
    const found = look(stuck, idle).watch;
    // The lowest bit may also not be there: a converter of one bit less looks the same.
    expect(found.flags & flag.stuckBit).toBe(bit === 0 ? 0 : flag.stuckBit);
  });

  test('finds a voltage that stands still', () => {
    expect(look(() => 120, idle).watch.flags).toBe(flag.dropout);
  });

  test('finds leads crossed: no current flows without a voltage', () => {
    expect(look(idle, clean).watch.flags & flag.swapped).toBe(flag.swapped);
    expect(look(clean, clean).watch.flags & flag.swapped).toBe(0);
  });
});
