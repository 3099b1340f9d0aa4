import type { Hertz, SampleIndex } from '../units.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';
import type { OtherLoadEvent, SupplyEstimate } from './supply-estimate.ts';

export interface SupplyOptions {
  rateHz: Hertz;
  /** Pairs in a row. */
  pairs: number;
  nominalHertz: 50 | 60;
  /** The pair to watch, from 0. */
  pair: number;
}

/**
 * E, R and X of the supply behind one pair, from rows and from where arcs began and ended.
 * Arc events may come late, by up to a second. Under way: refuses until it can estimate.
 */
export class SupplyEstimator implements HalfCycleSink {
  readonly #pair: number;

  constructor(options: SupplyOptions) {
    this.#pair = options.pair;
  }

  halfCycle(row: HalfCycleRow): void {
    void row.urms[this.#pair];
  }

  arcBegan(_at: SampleIndex): void {}

  arcEnded(_at: SampleIndex): void {}

  /** Samples lost; rows go on counting in samples since the stream's start. */
  skip(_frames: number): void {}

  /** Null while the evidence is too thin: see the rule in DEVELOPERS.md. */
  estimate(): SupplyEstimate | null {
    return null;
  }

  otherLoad(): readonly OtherLoadEvent[] {
    return [];
  }
}
