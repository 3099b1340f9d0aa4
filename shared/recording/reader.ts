import type { EpochMicros, Hertz } from '../units.ts';

/** A recording is not what it must be: one line naming what, where, and what would be right. */
export class RecordingError extends Error {
  override name = 'RecordingError';
}

/** One channel of a recording. Where it was kept in counts, value = count · scale + offset. */
export interface ChannelFacts {
  name: string;
  unit: 'V' | 'A';
  /** Volts or amperes a count; null where the recording holds values, not counts. */
  scale: number | null;
  offset: number;
  /** Bits of a count; 0 where the recording holds values. */
  bits: 0 | 8 | 16 | 24 | 32;
}

/** What a recording says of itself. */
export interface RecordingFacts {
  /** As told to people and in `judge --json`: `CSV`, `COMTRADE 1999 ASCII`, `WAV PCM16`. */
  format: string;
  rateHz: Hertz;
  /** Voltage-current pairs, 1 to 3. */
  pairs: number;
  /** Time of the first sample, or null where it is not told. */
  startedAt: EpochMicros | null;
  /** Rows, gaps included, where known before reading; else null. */
  frames: number | null;
  /** v1, i1, v2, i2, … in the order of a block's columns. */
  channels: readonly ChannelFacts[];
  nominalHertz: 50 | 60 | null;
  /** Names of channels that found no partner, or come after the third pair: not read. */
  leftOut: readonly string[];
}

/** Consecutive rows, one column a channel. Columns are reused: valid until the next `next()`. */
export interface RecordingBlock {
  /** Volts and amperes: v1, i1, v2, i2, …; only the first `frames` entries count. */
  channels: readonly Float64Array[];
  frames: number;
  /** Rows lost just before this block's first one; 0 where the record runs on. */
  gapFrames: number;
}

/** Largest volts or amperes that are believed: beyond lightning; squares stay far from 2^1024. */
export const mostValue = 1e9;

/** Longest block that a reader hands over; a caller's scratch may rely on it. */
export const maxBlockFrames = 8192;
/** Rows that are read at once: moving skewed channels may hold two back for the next block. */
export const readFrames = maxBlockFrames - 2;

/** Reads a recording front to back in memory that does not grow with its length. */
export interface RecordingReader {
  readonly facts: RecordingFacts;
  /**
   * The next rows, or null at the end. A row of which a value is marked missing in the recording is
   * not given: it counts as lost (`gapFrames` of the block after it), its value in `missing`.
   * @throws RecordingError
   */
  next(): RecordingBlock | null;
  /** Part of the bytes that was read, 0 to 1. */
  readonly progress: number;
  /** Values so far that the recording marks as missing. */
  readonly missing: number;
}
