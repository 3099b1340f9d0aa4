import { decodeText } from './text.ts';

/** 10^0 to 10^22: the powers that a double holds exactly. */
const exactPowers = Float64Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));
/** Digits whose whole number stays below 2^53, and digits more that the exact product allows. */
const headDigits = 15;
const tailDigits = 7;
/** Veltkamp's constant: splits a double into halves whose products are exact. */
const halving = 2 ** 27 + 1;
const plainNumber = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
/** Dashes that a word processor puts for a minus: en dash, minus sign, en dash of Windows-1252. */
const dashes = /[\u2012-\u2014\u2212\u0096]/g;
const zero = 48;
const point = 46;
const comma = 44;
const space = 32;

/**
 * Reads decimal numbers out of comma-separated bytes, as exactly as `Number()`: up to 15 digits
 * over an exact power of ten round once; up to 22 are divided in twice the precision; anything
 * else (exponents, odd dashes, more digits) is handed to `Number()`.
 */
export class NumberParser {
  /** Where the cell ended: at its comma, or at the end. */
  stop = 0;
  /** Power of ten of the last digit read, the number's resolution: -6 after "0.000098". */
  lastDigit = 0;

  /** The number in the cell that begins at `at`; NaN where there is none (or nothing). */
  parse(bytes: Uint8Array, at: number, end: number): number {
    let i = at;
    while (i < end && bytes[i] === space) i++;
    const negative = i < end && bytes[i] === 45;
    if (negative || (i < end && bytes[i] === 43)) i++;
    // Three tight loops and no count in them: digits are counted by where the loops end.
    const start = i;
    let limit = Math.min(end, i + headDigits);
    let digit = 0;
    let head = 0;
    let tail = 0;
    while (i < limit && (digit = bytes[i]! - zero) >= 0 && digit <= 9) {
      head = head * 10 + digit;
      i++;
    }
    const whole = i - start;
    let fraction = 0;
    let more = 0;
    if (i < end && bytes[i] === point) {
      const first = ++i;
      limit = Math.min(end, i + headDigits - whole);
      while (i < limit && (digit = bytes[i]! - zero) >= 0 && digit <= 9) {
        head = head * 10 + digit;
        i++;
      }
      const headEnd = i;
      limit = Math.min(end, i + tailDigits);
      while (i < limit && (digit = bytes[i]! - zero) >= 0 && digit <= 9) {
        tail = tail * 10 + digit;
        i++;
      }
      more = i - headEnd;
      fraction = i - first;
    }
    while (i < end && bytes[i] === space) i++;
    if ((i < end && bytes[i] !== comma) || whole + fraction === 0)
      return this.#slow(bytes, at, end);
    this.stop = i;
    this.lastDigit = -fraction;
    const power = exactPowers[fraction]!;
    const size = more === 0 ? head / power : long(head, tail, more, power);
    return negative ? -size : size;
  }

  #slow(bytes: Uint8Array, at: number, end: number): number {
    let stop = at;
    while (stop < end && bytes[stop] !== comma) stop++;
    this.stop = stop;
    if (stop - at > 64) return Number.NaN;
    const text = decodeText(bytes.subarray(at, stop)).trim().replace(dashes, '-');
    if (!plainNumber.test(text)) return Number.NaN;
    const [mantissa = '', exponent = '0'] = text.toLowerCase().split('e');
    const dot = mantissa.indexOf('.');
    this.lastDigit = Number(exponent) - (dot < 0 ? 0 : mantissa.length - dot - 1);
    const value = Number(text);
    return Number.isFinite(value) ? value : Number.NaN;
  }
}

/**
 * (head · 10^more + tail) / power, rounded once: the numerator is the exact sum of two doubles,
 * and the remainder of the first quotient, found with Dekker's exact product, corrects it.
 */
function long(head: number, tail: number, more: number, power: number): number {
  const shift = exactPowers[more]!;
  const low = head % 2 ** 27;
  const upper = (head - low) * shift;
  const lower = low * shift + tail;
  const sum = upper + lower;
  const rest = lower - (sum - upper);
  const quotient = sum / power;
  const quotientUpper = quotient * halving - (quotient * halving - quotient);
  const quotientLower = quotient - quotientUpper;
  const powerUpper = power * halving - (power * halving - power);
  const powerLower = power - powerUpper;
  const product = quotient * power;
  const error =
    quotientUpper * powerUpper -
    product +
    quotientUpper * powerLower +
    quotientLower * powerUpper +
    quotientLower * powerLower;
  return quotient + (sum - product - error + rest) / power;
}
