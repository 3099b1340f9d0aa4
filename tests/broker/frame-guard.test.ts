import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FrameGuard } from '../../broker/frame-guard.ts';

/** One MQTT frame: type, remaining length in sevens of bits, body. */
function frame(length: number): number[] {
  const bytes = [0x30];
  let rest = length;
  do {
    bytes.push((rest & 0x7f) | (rest > 127 ? 0x80 : 0));
    rest >>= 7;
  } while (rest > 0);
  return [...bytes, ...new Array<number>(length).fill(0xff)];
}

describe('frame guard', () => {
  it('lets frames up to the limit pass, however the link cuts them', () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat(300), { maxLength: 8 }),
        fc.integer({ min: 1, max: 97 }),
        (lengths, step) => {
          const guard = new FrameGuard(300);
          const bytes = Uint8Array.from(lengths.flatMap(frame));
          for (let at = 0; at < bytes.length; at += step)
            expect(guard.takes(bytes.subarray(at, at + step))).toBe(true);
        },
      ),
    );
  });

  it('stops at the header of the first frame that is one byte too long', () => {
    const guard = new FrameGuard(300);
    expect(guard.takes(Uint8Array.from(frame(300)))).toBe(true);
    const header = Uint8Array.from(frame(301).slice(0, 3));
    expect(guard.takes(header)).toBe(false);
  });

  it('refuses a length of five bytes, which the protocol does not have', () => {
    expect(new FrameGuard(2 ** 30).takes(Uint8Array.of(0x30, 0x80, 0x80, 0x80, 0x80))).toBe(false);
  });
});
