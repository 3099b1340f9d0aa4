import type { EpochMicros, Fraction, Hertz, SampleIndex } from '../units.ts';
import { cyclesAt } from './harmonics.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';
import { Ticks } from './ticks.ts';
import { emptyComponents, symmetricalComponents } from './unbalance.ts';

const TEN_MINUTES = 600;
/** Borders that differ by less, in samples, are the same one. */
const SAME_BORDER = 1e-3;

/** One ten-minute period's unbalance. One object is reused: copy what must outlive the call. */
export interface UnbalanceRow {
  start: SampleIndex;
  end: SampleIndex;
  /** Negative and zero sequence over the positive one, root of the mean of the squares. */
  u2: Fraction;
  u0: Fraction;
  /** False where cycles are missing or the sync coasted. */
  whole: boolean;
}

/**
 * Unbalance of three voltages after IEC 61000-4-30, 5.7: from the fundamental phasors of 10/12
 * cycles, aggregated over each ten minutes of the clock. Cycles that a tick cuts off from their ten
 * or twelve count for neither side. Rows must carry phasors. Phases that were wired in the other
 * order are taken in that one: unbalance says how far from balanced, not which way they turn.
 */
export class TenMinuteUnbalance implements HalfCycleSink {
  readonly #rateHz: Hertz;
  readonly #cycles: number;
  readonly #ticks: Ticks;
  readonly #told: (row: UnbalanceRow) => void;
  readonly #re = new Float64Array(3);
  readonly #im = new Float64Array(3);
  readonly #components = emptyComponents();
  readonly #row: UnbalanceRow = { start: 0.0, end: 0.0, u2: NaN, u0: NaN, whole: false };
  #summed = 0;
  #parts = 0;
  #u2Squares = 0.0;
  #u0Squares = 0.0;
  #tick = NaN;
  /** Where the next whole cycle begins. */
  #border = NaN;
  #whole = false;

  constructor(
    setup: { rateHz: Hertz; nominalHertz: 50 | 60; startedAt: EpochMicros | null },
    told: (row: UnbalanceRow) => void,
  ) {
    this.#rateHz = setup.rateHz;
    this.#cycles = cyclesAt(setup.nominalHertz);
    this.#ticks = new Ticks(setup.rateHz, setup.startedAt, TEN_MINUTES);
    this.#told = told;
  }

  halfCycle(row: HalfCycleRow): void {
    if (Number.isNaN(this.#tick)) {
      this.#tick = this.#ticks.after(row.middle);
      this.#border = row.start;
      const late = row.start - (this.#tick - TEN_MINUTES * this.#rateHz);
      this.#whole = late <= row.end - row.start;
    }
    if (row.start < this.#border - SAME_BORDER) return;
    if (row.start > this.#border + SAME_BORDER) this.#whole = false;
    this.#border = row.end;
    while (row.end > this.#tick + SAME_BORDER) this.#close();
    this.#whole &&= row.locked;
    for (let pair = 0; pair < 3; pair++) {
      this.#re[pair] = this.#re[pair]! + row.u1re[pair]!;
      this.#im[pair] = this.#im[pair]! + row.u1im[pair]!;
    }
    if (++this.#summed === this.#cycles) this.#take();
  }

  #take(): void {
    const each = symmetricalComponents(this.#re, this.#im, this.#components);
    const most = Math.max(each.positive, each.negative);
    if (most > 0) {
      this.#u2Squares += (Math.min(each.positive, each.negative) / most) ** 2;
      this.#u0Squares += (each.zero / most) ** 2;
      this.#parts += 1;
    } else this.#whole = false;
    this.#clear();
  }

  #clear(): void {
    this.#re.fill(0);
    this.#im.fill(0);
    this.#summed = 0;
  }

  #close(): void {
    const row = this.#row;
    row.start = this.#tick - TEN_MINUTES * this.#rateHz;
    row.end = this.#tick;
    row.u2 = Math.sqrt(this.#u2Squares / this.#parts);
    row.u0 = Math.sqrt(this.#u0Squares / this.#parts);
    row.whole = this.#whole && this.#parts > 0;
    this.#told(row);
    this.#u2Squares = this.#u0Squares = 0;
    this.#parts = 0;
    this.#whole = true;
    this.#clear();
    this.#tick = this.#ticks.after(this.#tick + 0.5);
  }
}
