import type { LiveRows } from '../../../../shared/protocol/live-rows.ts';

/** A minute of half cycles at 60 Hz: what a strip shows. */
export const recentRows = 7_200;
/** Half cycles come each 8 to 12 ms; a step longer than this is a hole, to be shown as one. */
const holeMs = 60;

/** The last minute of a sensor's rows: a ring that is written in place. */
export class RecentRows {
  readonly pairs: number;
  #count = 0;
  readonly #timeMs = new Float64Array(recentRows);
  /** Volts of each pair, then amps of each, then watts of each. */
  readonly #columns: Float32Array[];

  constructor(pairs: number) {
    this.pairs = pairs;
    this.#columns = Array.from({ length: 3 * pairs }, () => new Float32Array(recentRows));
  }

  get newestMs(): number | null {
    return this.#count === 0 ? null : this.#timeMs[(this.#count - 1) % recentRows]!;
  }

  push({ timeMs, volts, amps, watts }: LiveRows): void {
    if (volts.length !== this.pairs) return;
    const from = [...volts, ...amps, ...watts];
    for (let row = 0; row < timeMs.length; row++) {
      const at = this.#count++ % recentRows;
      this.#timeMs[at] = timeMs[row]!;
      for (let column = 0; column < from.length; column++)
        this.#columns[column]![at] = from[column]![row]!;
    }
  }

  /** Puts rows into holes alone, in order of time: what was seen row by row stays. */
  fill(rows: LiveRows): void {
    if (rows.volts.length !== this.pairs) return;
    const from = [...rows.volts, ...rows.amps, ...rows.watts];
    const own = this.#inOrder();
    const all = [...own];
    let near = 0;
    rows.timeMs.forEach((timeMs, row) => {
      if (Number.isNaN(from[0]![row]!)) return;
      while (near < own.length && own[near]!.timeMs <= timeMs) near++;
      const [before, after] = [own[near - 1]?.timeMs, own[near]?.timeMs];
      if (before !== undefined && timeMs - before <= holeMs) return;
      // After the newest row there is no hole yet: what would stand there hid the rows to come.
      if (after === undefined || after - timeMs <= holeMs) return;
      all.push({ timeMs, values: from.map((column) => column[row]!) });
    });
    all.sort((a, b) => a.timeMs - b.timeMs);
    this.#count = 0;
    for (const { timeMs, values } of all.slice(-recentRows)) this.#put(timeMs, values);
  }

  #inOrder(): { timeMs: number; values: number[] }[] {
    const oldest = Math.max(0, this.#count - recentRows);
    return Array.from({ length: this.#count - oldest }, (_, index) => {
      const at = (oldest + index) % recentRows;
      return { timeMs: this.#timeMs[at]!, values: this.#columns.map((column) => column[at]!) };
    });
  }

  #put(timeMs: number, values: readonly number[]): void {
    const at = this.#count++ % recentRows;
    this.#timeMs[at] = timeMs;
    for (let column = 0; column < values.length; column++)
      this.#columns[column]![at] = values[column]!;
  }

  /**
   * Columns for a chart: seconds before `nowMs` (negative), then all columns; null where a reading
   * was lost, and one row of nulls in each hole.
   */
  chart(nowMs: number, spanS: number): (number | null)[][] {
    const out: (number | null)[][] = Array.from({ length: 1 + this.#columns.length }, () => []);
    const oldest = Math.max(0, this.#count - recentRows);
    let lastMs = Number.NaN;
    for (let row = oldest; row < this.#count; row++) {
      const at = row % recentRows;
      const timeMs = this.#timeMs[at]!;
      const x = (timeMs - nowMs) / 1_000;
      if (x < -spanS || timeMs <= lastMs) continue;
      if (timeMs - lastMs > holeMs) {
        out[0]!.push((lastMs + 1 - nowMs) / 1_000);
        for (let column = 1; column < out.length; column++) out[column]!.push(null);
      }
      out[0]!.push(x);
      for (let column = 1; column < out.length; column++) {
        const value = this.#columns[column - 1]![at]!;
        out[column]!.push(Number.isNaN(value) ? null : value);
      }
      lastMs = timeMs;
    }
    return out;
  }
}
