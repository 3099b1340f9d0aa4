import { assert } from '../../shared/assert.ts';
import type { RecordingBlock, RecordingReader } from '../../shared/recording/reader.ts';
import type { Adc, AdcAbout, AdcBlock, Clock } from '../hal.ts';
import { FramePace } from './frame-pace.ts';

/** Counts of a recording that holds values, or counts wider than a sensor's, get this many bits. */
const wideBits = 24;
/** The largest value stands this far below full scale: at the stop it would read as clipped. */
const headroom = 1.01;

/**
 * How a recording's values become counts: in its own counts, where it has such of at most 24 bits,
 * else in 24 bits over the largest value of each channel (60 parts in a thousand million).
 */
export function countsOf(reader: RecordingReader, peaks: readonly number[] | null): AdcAbout {
  const { pairs, rateHz, channels } = reader.facts;
  const own = inOwnCounts(reader);
  assert(own || peaks, 'values need their peaks to become counts');
  const bits = own ? Math.max(16, ...channels.map((channel) => channel.bits)) : wideBits;
  const scale = own
    ? channels.map((channel) => channel.scale ?? 1)
    : peaks!.map((peak) => ((peak || 1) * headroom) / 2 ** (wideBits - 1));
  return { pairs, rateHz, bits, scale };
}

/** Whether the counts fit a sensor as they are; an offset would move them past its stops. */
export const inOwnCounts = (reader: RecordingReader): boolean =>
  reader.facts.channels.every(
    ({ scale, bits, offset }) => scale !== null && scale > 0 && bits > 0 && bits <= 24 && !offset,
  );

/** Largest magnitude of each channel; reads the recording to its end. */
export function peaksOf(reader: RecordingReader): number[] {
  const peaks = reader.facts.channels.map(() => 0);
  for (let block = reader.next(); block; block = reader.next())
    for (const [channel, column] of block.channels.entries())
      for (let n = 0; n < block.frames; n++)
        peaks[channel] = Math.max(peaks[channel]!, Math.abs(column[n]!));
  return peaks;
}

/** A converter that saw what a recording holds. Gaps of the recording are frames lost. */
export class RecordedAdc implements Adc {
  readonly about: AdcAbout;
  /** All has been read. */
  ended = false;
  /** While set, no frame is handed over: the recording waits. */
  held = false;
  readonly #reader: RecordingReader;
  readonly #pace: FramePace;
  #block: RecordingBlock | null = null;
  #at = 0;
  /** Frames of a gap that are still to pass, and that have passed and were not told yet. */
  #gap = 0;
  #gapTold = 0;

  constructor(reader: RecordingReader, about: AdcAbout, clock: Clock) {
    this.about = about;
    this.#reader = reader;
    // Nothing is ever dropped: a recording can wait for whoever reads it.
    this.#pace = new FramePace(clock, about.rateHz, Number.POSITIVE_INFINITY);
  }

  /** Part that was read, 0 to 1. */
  get progress(): number {
    return this.#reader.progress;
  }

  read(into: Int32Array, block: AdcBlock): void {
    block.frames = 0;
    block.lost = 0;
    if (this.held || this.ended) return;
    if (!this.#block || this.#at >= this.#block.frames) this.#turn();
    const left = this.#block ? this.#block.frames - this.#at : 0;
    const channels = this.about.scale.length;
    const lost = this.#skip(block);
    this.#pace.take(block, this.#gap > 0 ? 0 : Math.min(left, Math.floor(into.length / channels)));
    block.lost = lost;
    if (block.frames === 0 || !this.#block) return;
    for (const [channel, column] of this.#block.channels.entries()) {
      const scale = this.about.scale[channel]!;
      for (let n = 0; n < block.frames; n++)
        into[n * channels + channel] = Math.round(column[this.#at + n]! / scale);
    }
    this.#at += block.frames;
  }

  #turn(): void {
    this.#block = this.#reader.next();
    this.#at = 0;
    if (this.#block) this.#gap = this.#block.gapFrames;
    else this.ended = true;
  }

  /** A gap passes as time does; it is told once it is over. */
  #skip(block: AdcBlock): number {
    if (this.#gap === 0) return 0;
    this.#pace.take(block, this.#gap);
    this.#gap -= block.frames;
    this.#gapTold += block.frames;
    if (this.#gap > 0) return 0;
    const lost = this.#gapTold;
    this.#gapTold = 0;
    return lost;
  }
}
