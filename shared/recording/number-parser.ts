import { decodeText } from './text.ts';

/** 10^0 to 10^22: the powers that a double holds exactly. */
const exactPowers = Float64Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));
const exactLimit = 2 ** 53;
const plainNumber = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
/** Dashes that a word processor puts for a minus: en dash, minus sign, en dash of Windows-1252. */
const dashes = /[\u2012-\u2014\u2212\u0096]/g;

/**
 * Reads decimal numbers out of comma-separated bytes, as exactly as `Number()`: digits below 2^53
 * over or times an exact power of ten round once; anything else is handed to `Number()`.
 */
export class NumberParser {
  /** Where the cell ended: at its comma, or at the end. */
  stop = 0;
  /** Power of ten of the last digit read: -6 after "0.000098", and its resolution. */
  lastDigit = 0;

  /** The number in the cell that begins at `at`; NaN where there is none (or nothing). */
  parse(bytes: Uint8Array, at: number, end: number): number {
    let i = at;
    while (i < end && bytes[i] === 32) i++;
    const negative = bytes[i] === 45;
    if (negative || bytes[i] === 43) i++;
    let digits = 0;
    let count = 0;
    let byte = 0;
    let power = 0;
    for (; i < end && (byte = bytes[i]! - 48) >= 0 && byte <= 9; i++) {
      digits = digits * 10 + byte;
      count++;
    }
    if (i < end && bytes[i] === 46) {
      const point = ++i;
      for (; i < end && (byte = bytes[i]! - 48) >= 0 && byte <= 9; i++) digits = digits * 10 + byte;
      power = point - i;
      count -= power;
    }
    while (i < end && bytes[i] === 32) i++;
    if ((i < end && bytes[i] !== 44) || count === 0 || digits > exactLimit || power < -22)
      return this.#slow(bytes, at, end);
    this.stop = i;
    this.lastDigit = power;
    const size = power === 0 ? digits : digits / exactPowers[-power]!;
    return negative ? -size : size;
  }

  #slow(bytes: Uint8Array, at: number, end: number): number {
    let stop = at;
    while (stop < end && bytes[stop] !== 44) stop++;
    this.stop = stop;
    if (stop - at > 64) return Number.NaN;
    const text = decodeText(bytes.subarray(at, stop)).trim().replace(dashes, '-');
    if (!plainNumber.test(text)) return Number.NaN;
    const [mantissa = '', exponent = '0'] = text.toLowerCase().split('e');
    const point = mantissa.indexOf('.');
    this.lastDigit = Number(exponent) - (point < 0 ? 0 : mantissa.length - point - 1);
    const value = Number(text);
    return Number.isFinite(value) ? value : Number.NaN;
  }
}
