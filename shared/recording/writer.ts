import type { EpochMicros, Hertz } from '../units.ts';
import type { ChannelFacts } from './reader.ts';

/** What a recording's head says. */
export interface WriterSetup {
  /** With a scale a channel is kept in counts; without, its values are written as they are. */
  channels: readonly ChannelFacts[];
  rateHz: Hertz;
  hertz: number | null;
  /** Time of the first sample; null where the clock was not set. */
  startedAt: EpochMicros | null;
}

/** Takes rows front to back. Until `close` the file's head promises nothing of its length. */
export interface RecordingWriter {
  /** Values in volts and amperes, one column a channel. */
  writeValues(columns: readonly Float64Array[], frames: number): void;
  /** Leaves rows out: they were lost. */
  skip(frames: number): void;
  close(): void;
}
