import { assert } from '../assert.ts';

/**
 * Classes of a level by the upper bits of its binary floating-point form: 128 an octave, thus
 * 0.8 % wide at the most, without a logarithm a sample. 2⁻¹⁴ to 2¹⁴ is a Pst from 0.01 to 100.
 */
const LOWEST_EXPONENT = -14;
const HIGHEST_EXPONENT = 14;
const PER_OCTAVE = 128;
const CLASSES = (HIGHEST_EXPONENT - LOWEST_EXPONENT) * PER_OCTAVE;
/** Of the upper word, the exponent and the highest 7 bits of the mantissa stay. */
const DROPPED_BITS = 20 - Math.log2(PER_OCTAVE);
const FIRST_CODE = (1023 + LOWEST_EXPONENT) * PER_OCTAVE;

/** Percentiles averaged to one of the five levels, and its weight (IEC 61000-4-15, 4.7). */
const LEVELS: readonly { weight: number; percents: readonly number[] }[] = [
  { weight: 0.0314, percents: [0.1] },
  { weight: 0.0525, percents: [0.7, 1, 1.5] },
  { weight: 0.0657, percents: [2.2, 3, 4] },
  { weight: 0.28, percents: [6, 8, 10, 13, 17] },
  { weight: 0.08, percents: [30, 50, 80] },
];

/** Block 5: how long Pinst stood how high, and the severity Pst that follows. */
export class FlickerStatistics {
  private readonly counts = new Uint32Array(CLASSES);
  private readonly level = new Float64Array(1);
  private readonly words = new Uint32Array(this.level.buffer);
  private readonly upper = upperWord();
  private total = 0;

  get samples(): number {
    return this.total;
  }

  add(pinst: number): void {
    this.level[0] = pinst;
    const at = (this.words[this.upper]! >>> DROPPED_BITS) - FIRST_CODE;
    // A negative zero or NaN would land above: neither comes out of a smoothed square.
    this.counts[at < 0 ? 0 : at >= CLASSES ? CLASSES - 1 : at]!++;
    this.total++;
  }

  clear(): void {
    this.counts.fill(0);
    this.total = 0;
  }

  /** Level that was exceeded for a part of the time, in percent. */
  exceeded(percent: number): number {
    assert(percent > 0 && percent < 100, 'a level is exceeded for a part of the time');
    const wanted = (this.total * percent) / 100;
    let above = 0;
    for (let at = CLASSES - 1; at >= 0; at--) {
      const count = this.counts[at]!;
      if (count > 0 && above + count >= wanted) {
        return edge(at + 1) - (edge(at + 1) - edge(at)) * ((wanted - above) / count);
      }
      above += count;
    }
    return 0;
  }

  /** Short-term severity of what was added; NaN where nothing was. */
  pst(): number {
    if (this.total === 0) return NaN;
    let sum = 0.0;
    for (const { weight, percents } of LEVELS) {
      let level = 0.0;
      for (const percent of percents) level += this.exceeded(percent);
      sum += (weight * level) / percents.length;
    }
    return Math.sqrt(sum);
  }
}

/** Lower edge of a class. */
function edge(at: number): number {
  const octave = Math.floor(at / PER_OCTAVE);
  return 2 ** (LOWEST_EXPONENT + octave) * (1 + (at - octave * PER_OCTAVE) / PER_OCTAVE);
}

/** Which 32-bit half of a double holds its exponent: 1 on little-endian machines. */
function upperWord(): 0 | 1 {
  return new Uint32Array(Float64Array.of(1).buffer)[1] === 0 ? 0 : 1;
}
