import { blankRow, type HalfCycleRow } from '../metrology/row.ts';
import type { Amperes, Hertz, SampleIndex } from '../units.ts';

/** Duty counts in half seconds; a quiet row is no longer than one of its bins. */
const rowSeconds = 0.5;
/** A gap of ten minutes has filled the duty's whole window: more of it changes nothing. */
const mostSeconds = 600;

/** Rows that stand for what a sensor did not send: no arc, the machine at its idle current. */
export class QuietRows {
  readonly #samples: number;
  readonly #most: number;
  readonly #row: HalfCycleRow;

  constructor(rateHz: Hertz, pairs: number) {
    this.#samples = rowSeconds * rateHz;
    this.#most = mostSeconds * rateHz;
    this.#row = blankRow(pairs);
  }

  fill(from: SampleIndex, to: SampleIndex, idle: Amperes, take: (row: HalfCycleRow) => void): void {
    const row = this.#row;
    row.ihalf.fill(idle / Math.sqrt(row.ihalf.length));
    const begin = Math.max(from, to - this.#most);
    for (let at = begin; at < to; at += this.#samples) {
      row.middle = at;
      row.end = Math.min(to, at + this.#samples);
      take(row);
    }
  }
}
