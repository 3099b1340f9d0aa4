import type { Hertz, SampleIndex } from '../units.ts';
import { columns } from './columns.ts';

/**
 * One half cycle's reading: the r.m.s. values over the one-cycle window that ends with it,
 * refreshed every half cycle: Urms(1/2) after IEC 61000-4-30.
 *
 * One object is reused for every call of a sink: copy what must outlive the call. Arrays have one
 * entry a voltage–current pair, in channel order. A window's borders lie between samples.
 */
export interface HalfCycleRow {
  /** Half cycles since the stream's start; counts on through gaps by elapsed time. */
  index: number;
  /** Start of the one-cycle window. */
  start: SampleIndex;
  /** Border between the window's two half cycles. */
  middle: SampleIndex;
  /** End of the window: the moment the row is of. */
  end: SampleIndex;
  /** Fundamental frequency that the cycle sync follows. */
  hertz: Hertz;
  /** False while the sync coasts: no fundamental to follow, borders are foretold. */
  locked: boolean;
  readonly urms: Float64Array;
  readonly irms: Float64Array;
  /** Active power, mean of v·i over the window. */
  readonly watts: Float64Array;
  /** The same three over the newest half cycle alone, `middle` … `end`, which none shares. */
  readonly uhalf: Float64Array;
  readonly ihalf: Float64Array;
  readonly whalf: Float64Array;
  /** Fundamental phasors, r.m.s. scale, cosine reference at the window's start. */
  readonly u1re: Float64Array;
  readonly u1im: Float64Array;
  readonly i1re: Float64Array;
  readonly i1im: Float64Array;
}

/**
 * Urms(1/2) of one of several voltages between that voltage's own zero crossings, as IEC 61000-4-30
 * has it for each channel by itself. One object a channel is reused for every call.
 */
export interface ChannelReading {
  /** Counted from 0. */
  readonly pair: number;
  start: SampleIndex;
  middle: SampleIndex;
  end: SampleIndex;
  hertz: Hertz;
  urms: number;
  /** Over the newest half cycle alone, `middle` … `end`. */
  uhalf: number;
}

/** Takes rows as they are measured. */
export interface HalfCycleSink {
  halfCycle(row: HalfCycleRow): void;
  /**
   * Of two or three pairs, each on its own crossings, in the order in which they end; those that
   * end before a row are told before it. A single pair's rows are that already.
   */
  channel?(reading: ChannelReading): void;
  /**
   * The part of a half cycle that an unbroken stretch of the stream begins or ends with: before its
   * first row and after its last, `middle` … `end`, in `uhalf`, `ihalf` and `whalf`; `start` is
   * `middle`. With it a stretch's figures stand on every sample. A sample stands for half a sample
   * on both its sides, so a stream begins at −½.
   */
  edge?(row: HalfCycleRow): void;
}

/** A row of zeros for `pairs` voltage–current pairs. */
export function blankRow(pairs: number): HalfCycleRow {
  const column = columns(10, pairs);
  return {
    index: 0,
    start: 0,
    middle: 0,
    end: 0,
    hertz: 0,
    locked: false,
    urms: column(),
    irms: column(),
    watts: column(),
    uhalf: column(),
    ihalf: column(),
    whalf: column(),
    u1re: column(),
    u1im: column(),
    i1re: column(),
    i1im: column(),
  };
}
