import type { SampleIndex } from '../units.ts';

/**
 * Aggregated r.m.s. values after IEC 61000-4-30, 4.4 and 4.5. One object is reused for every call
 * of a sink: copy what must outlive the call. Arrays have one entry a voltage–current pair.
 */
export interface IntervalRow {
  start: SampleIndex;
  end: SampleIndex;
  /** Cycles of a 10/12-cycle value, 10/12-cycle values of a longer one. */
  parts: number;
  /** It holds a part of a dip, swell or interruption (4.7): kept, but read it with care. */
  flagged: boolean;
  /** False where cycles are missing (a gap in the stream, its beginning) or the sync coasted. */
  whole: boolean;
  readonly urms: Float64Array;
  readonly irms: Float64Array;
  /** Mean active power. */
  readonly watts: Float64Array;
}

/** Takes intervals a cycle after they end, when it is known whether an event reaches into them. */
export interface IntervalSink {
  /** 10 cycles at 50 Hz, 12 at 60 Hz: about 200 ms. */
  basic?(row: IntervalRow): void;
  /** 15 of those. */
  threeSeconds?(row: IntervalRow): void;
  /** All that began between two ticks of the clock. */
  tenMinutes?(row: IntervalRow): void;
}

/** Power frequency over one 10 s clock interval (IEC 61000-4-30, 5.1). */
export interface FrequencyRow {
  /** The clock interval, in samples. */
  start: SampleIndex;
  end: SampleIndex;
  /** Whole cycles over the time they took; NaN where there was none to count. */
  hertz: number;
  cycles: number;
  flagged: boolean;
  /** False where cycles are missing or the sync coasted through any. */
  whole: boolean;
}

export interface FrequencySink {
  frequency(row: FrequencyRow): void;
}
