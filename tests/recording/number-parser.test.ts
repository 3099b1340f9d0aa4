import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { NumberParser } from '../../shared/recording/number-parser.ts';
import { encodeText } from '../../shared/recording/text.ts';

const parser = new NumberParser();
const parse = (text: string) => {
  const bytes = encodeText(text);
  return parser.parse(bytes, 0, bytes.length);
};

describe('number parser', () => {
  test('agrees with Number() on any double as it prints itself', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(parse(String(value))).toBe(Number(String(value)));
      }),
      { numRuns: 2000 },
    );
  });

  test('agrees with Number() on decimals of any length', () => {
    const decimal = fc.tuple(
      fc.constantFrom('', '-', '+'),
      fc.stringMatching(/^\d{0,20}$/),
      fc.stringMatching(/^\d{1,20}$/),
    );
    fc.assert(
      fc.property(decimal, ([sign, whole, fraction]) => {
        const text = `${sign}${whole}.${fraction}`;
        expect(parse(text)).toBe(Number(text));
      }),
      { numRuns: 2000 },
    );
  });

  test.each(['0', '-0', '00', '0.', '.0', '5.', '-.5', '+7', ' 12 ', '1e3', '1.5E-7', '000.250'])(
    'reads %j',
    (text) => {
      expect(parse(text)).toBe(Number(text));
    },
  );

  test.each(['', ' ', '-', '.', '-.', '1.2.3', 'abc', '1 2', '0x10', '1e', 'e5', 'NaN', '1e999'])(
    'refuses %j',
    (text) => {
      expect(parse(text)).toBeNaN();
    },
  );

  test('takes the dashes of word processors for a minus', () => {
    for (const dash of ['\u2013', '\u2212', '\u0096']) expect(parse(`${dash}12.5`)).toBe(-12.5);
    expect(parser.parse(Uint8Array.of(0x96, 0x37), 0, 2)).toBe(-7);
  });

  test('stops at the comma and tells the resolution', () => {
    const bytes = encodeText('1.2500,7');
    expect(parser.parse(bytes, 0, bytes.length)).toBe(1.25);
    expect(parser.stop).toBe(6);
    expect(parser.lastDigit).toBe(-4);
  });
});
