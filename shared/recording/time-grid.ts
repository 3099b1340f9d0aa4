/** Longest gap that is believed: a day. Beyond it the time column is broken. */
export const longestGapS = 86_400;

/**
 * Samples a second from the times of the first rows, which may be rounded, jitter, and leave rows
 * out. Where a whole, round number fits within what the times can tell, that one is meant.
 * @param quantumS Resolution of the times.
 * @returns Null where the times do not rise.
 */
export function findRate(times: Float64Array, quantumS: number): number | null {
  const steps = new Float64Array(times.length - 1);
  for (let i = 0; i < steps.length; i++) steps[i] = times[i + 1]! - times[i]!;
  const sorted = steps.slice().sort();
  const middle = sorted[sorted.length >> 1]!;
  const usual = middle > 0 ? middle : (times.at(-1)! - times[0]!) / steps.length;
  if (!(usual > 0) || !Number.isFinite(usual)) return null;
  let span = 0;
  let rows = 0;
  let gaps = 0;
  for (const step of steps) {
    if (step > 1.5 * usual || step < -0.5 * usual) {
      gaps++;
      continue;
    }
    span += step;
    rows++;
  }
  if (!(span > 0)) return null;
  const step = span / rows;
  const unsure = (2 * Math.max(quantumS, farthest(steps, usual, step)) * (1 + gaps)) / span;
  return nearestRound(1 / step, Math.max(unsure, 1e-9) / step);
}

/** Largest distance of a time from the even grid, over the steps that count. */
function farthest(steps: Float64Array, usual: number, step: number): number {
  let drift = 0;
  let most = 0;
  for (const each of steps) {
    if (each > 1.5 * usual || each < -0.5 * usual) continue;
    drift += each - step;
    most = Math.max(most, Math.abs(drift));
  }
  return most;
}

/** The roundest whole number within reach, else the value itself. */
function nearestRound(value: number, reach: number): number {
  for (const unit of [1000, 100, 10, 1]) {
    const round = Math.round(value / unit) * unit;
    if (round > 0 && Math.abs(round - value) <= reach) return round;
  }
  return value;
}

/**
 * Follows the times of rows along an even grid. A row may jitter by half a sample and the clock may
 * drift; a step of several whole samples is a gap; anything else is no grid.
 */
export class TimeGrid {
  /** After a refusal: the time since the last row, in samples. */
  stepSamples = 0;
  readonly #stepS: number;
  readonly #longestGap: number;
  #dueS = Number.NaN;
  #lastS = Number.NaN;

  constructor(rateHz: number) {
    this.#stepS = 1 / rateHz;
    this.#longestGap = longestGapS * rateHz;
  }

  /**
   * Places the next row: how many rows are lost before it, or -1 where its time fits nowhere.
   * @param quantumS Resolution of this row's time: it may be off by that much.
   */
  place(timeS: number, quantumS: number): number {
    if (Number.isNaN(this.#dueS)) this.#dueS = timeS;
    const off = (timeS - this.#dueS) / this.#stepS;
    const rounding = quantumS / this.#stepS;
    let gap = 0;
    if (!(Math.abs(off) <= 0.5 + rounding)) {
      gap = Math.round(off);
      if (!(gap > 0 && Math.abs(off - gap) <= 0.25 + rounding && gap <= this.#longestGap)) {
        this.stepSamples = (timeS - this.#lastS) / this.#stepS;
        return -1;
      }
    }
    // A sixteenth of the deviation is followed: slow against jitter, fast against a clock's drift.
    this.#dueS += (gap + 1 + (off - gap) / 16) * this.#stepS;
    this.#lastS = timeS;
    return gap;
  }
}
