import type { AdcAbout } from '../hal.ts';
import type { CborWriter } from './cbor-writer.ts';
import { typedArray } from './cbor-writer.ts';
import { ringFrames, sampleBytes } from './limits.ts';

/**
 * The last frames, kept as they will be sent: the pre-trigger and what still waits for flash.
 * Frames are named by their index in the stream; those held run without a gap.
 */
export class History {
  /** Index of the oldest frame held, and of the one to come. */
  first = 0.0;
  end = 0.0;
  readonly channels: number;
  private readonly capacity: number;
  private readonly narrow: Int16Array | null;
  private readonly wide: Int32Array | null;

  constructor(about: AdcAbout) {
    this.channels = 2 * about.pairs;
    this.capacity = ringFrames(about.rateHz);
    const size = this.capacity * this.channels;
    const fits = sampleBytes(about.bits) === 2;
    this.narrow = fits ? new Int16Array(size) : null;
    this.wide = fits ? null : new Int32Array(size);
  }

  /** Lets go of all; the next frame is `index`. */
  restart(index: number): void {
    this.first = index;
    this.end = index;
  }

  push(counts: Int32Array, frames: number): void {
    const { capacity, channels } = this;
    const ring = (this.narrow ?? this.wide)!;
    let at = (this.end % capacity) * channels;
    for (let n = 0; n < frames * channels; n++) {
      ring[at++] = counts[n]!;
      if (at === ring.length) at = 0;
    }
    this.end += frames;
    this.first = Math.max(this.first, this.end - capacity);
  }

  /** Writes frames `from` to `from + frames` as a typed array. */
  write(into: CborWriter, from: number, frames: number): void {
    const { capacity, channels } = this;
    const at = from % capacity;
    const part = Math.min(frames, capacity - at);
    into.typed(this.narrow ? typedArray.sint16 : typedArray.sint32, frames * channels);
    if (this.narrow) {
      into.sint16(this.narrow, at * channels, part * channels);
      into.sint16(this.narrow, 0, (frames - part) * channels);
    } else {
      into.sint32(this.wide!, at * channels, part * channels);
      into.sint32(this.wide!, 0, (frames - part) * channels);
    }
  }

  /** Counts of these frames that stand at or beyond a stop. */
  atStops(from: number, frames: number, bottom: number, top: number): boolean {
    const ring = (this.narrow ?? this.wide)!;
    let at = (from % this.capacity) * this.channels;
    for (let n = 0; n < frames * this.channels; n++) {
      const count = ring[at++]!;
      if (count <= bottom || count >= top) return true;
      if (at === ring.length) at = 0;
    }
    return false;
  }
}
