import type { ComtradeConfig } from './comtrade-cfg.ts';
import { RecordingError } from './reader.ts';
import { findRate, longestGapS, TimeGrid } from './time-grid.ts';

/**
 * What orders the rows: their count; their numbers, where the first and the last span exactly what
 * the .cfg promises though rows are lost between; or their timestamps, where no rate is told.
 */
export type OrderKind = 'counted' | 'numbered' | 'timed';

export function orderKind(config: ComtradeConfig, first: number, last: number): OrderKind {
  if (config.rateHz === 0) return 'timed';
  return config.rows > 0 && last - first + 1 === config.rows ? 'numbered' : 'counted';
}

/** Rows that the rate of a timed recording is found from. */
export const stampProbeRows = 20_000;

/** Samples a second of a timed recording. */
export function stampRate(name: string, stamps: Float64Array, config: ComtradeConfig): number {
  const quantumS = config.stampMicros * 1e-6;
  const rate =
    stamps.length < 2
      ? null
      : findRate(
          stamps.map((each) => each * quantumS),
          quantumS,
        );
  if (rate === null)
    throw new RecordingError(
      `${name}: the .cfg tells no rate and the timestamps do not rise; one of them is needed`,
    );
  return rate;
}

/** Places rows one after another. */
export class RowOrder {
  readonly #kind: OrderKind;
  readonly #grid: TimeGrid;
  readonly #quantumS: number;
  readonly #longestGap: number;
  #due = Number.NaN;

  constructor(kind: OrderKind, rateHz: number, config: ComtradeConfig) {
    this.#kind = kind;
    this.#grid = new TimeGrid(rateHz);
    this.#quantumS = config.stampMicros * 1e-6;
    this.#longestGap = longestGapS * rateHz;
  }

  /** Rows lost before this one, or -1 where it fits nowhere. */
  place(number: number, stamp: number): number {
    if (this.#kind === 'counted') return 0;
    if (this.#kind === 'timed') {
      return this.#grid.place(stamp * this.#quantumS, this.#quantumS);
    }
    if (Number.isNaN(this.#due)) this.#due = number;
    const gap = number - this.#due;
    this.#due = number + 1;
    return gap >= 0 && gap <= this.#longestGap ? gap : -1;
  }

  /** What `place` refused, in words. */
  get refusal(): string {
    return this.#kind === 'timed'
      ? `its timestamp lies ${this.#grid.stepSamples.toFixed(3)} samples after the row before`
      : 'its number does not follow that of the row before';
  }
}

export function cutError(name: string, rows: number, config: ComtradeConfig): RecordingError {
  return new RecordingError(
    `${name}: is cut: ${rows} rows are there and the .cfg promises ${config.rows}`,
  );
}
