import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Fft } from '../../shared/metrology/fft.ts';

const SIZES = [16, 32, 64, 128, 256, 512, 1024, 2048, 4096];

function transform(input: Float64Array) {
  const re = new Float64Array(input.length / 2 + 1);
  const im = new Float64Array(input.length / 2 + 1);
  new Fft(input.length).realForward(input, re, im);
  return { re, im };
}

/** The definition, summed term by term; angles reduced first so that they stay exact. */
function bySums(input: Float64Array, k: number) {
  const n = input.length;
  let re = 0;
  let im = 0;
  for (let j = 0; j < n; j++) {
    const angle = (2 * Math.PI * ((j * k) % n)) / n;
    re += input[j]! * Math.cos(angle);
    im -= input[j]! * Math.sin(angle);
  }
  return { re, im };
}

const signal = (size: number) =>
  fc
    .array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: size, maxLength: size })
    .map((values) => Float64Array.from(values));

describe('Fft', () => {
  test('of an impulse every bin is 1', () => {
    const input = new Float64Array(16);
    input[0] = 1;
    const { re, im } = transform(input);
    expect([...re]).toEqual(new Array(9).fill(1));
    expect([...im].map(Math.abs)).toEqual(new Array(9).fill(0));
  });

  test.each(SIZES)('of %i points it is the sum that defines it', (size) => {
    const input = Float64Array.from({ length: size }, (_, n) => Math.sin(n * n) + (n % 7));
    const { re, im } = transform(input);
    for (let k = 0; k <= size / 2; k += size > 256 ? 37 : 1) {
      const sums = bySums(input, k);
      expect(re[k]).toBeCloseTo(sums.re, 8);
      expect(im[k]).toBeCloseTo(sums.im, 8);
    }
  });

  test('keeps energy (Parseval)', () => {
    fc.assert(
      fc.property(signal(64), (input) => {
        const { re, im } = transform(input);
        let energy = re[0]! ** 2 + re[32]! ** 2;
        for (let k = 1; k < 32; k++) energy += 2 * (re[k]! ** 2 + im[k]! ** 2);
        const inTime = input.reduce((sum, x) => sum + x * x, 0);
        expect(Math.abs(energy / 64 - inTime)).toBeLessThanOrEqual(1e-9 * (1 + inTime));
      }),
    );
  });

  test('turns with a shift: X[k]·e^(−2πik/n) for one sample later', () => {
    fc.assert(
      fc.property(signal(32), fc.integer({ min: 1, max: 31 }), (input, shift) => {
        const later = input.map((_, n) => input[(n - shift + 32) % 32]!);
        const a = transform(input);
        const b = transform(later);
        for (let k = 0; k <= 16; k++) {
          const angle = (-2 * Math.PI * k * shift) / 32;
          const re = a.re[k]! * Math.cos(angle) - a.im[k]! * Math.sin(angle);
          expect(Math.abs(b.re[k]! - re)).toBeLessThan(1e-8);
        }
      }),
    );
  });

  test('leaves its input and gives the same again', () => {
    const input = Float64Array.from({ length: 2048 }, (_, n) => Math.cos(n));
    const copy = Float64Array.from(input);
    const fft = new Fft(2048);
    const first = { re: new Float64Array(1025), im: new Float64Array(1025) };
    const second = { re: new Float64Array(1025), im: new Float64Array(1025) };
    fft.realForward(input, first.re, first.im);
    fft.realForward(input, second.re, second.im);
    expect(input).toEqual(copy);
    expect(second).toEqual(first);
  });

  test.each([0, 8, 100, 2047])('%i points are refused', (size) => {
    expect(() => new Fft(size)).toThrow('2^n');
  });
});
