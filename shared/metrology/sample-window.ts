import { assert } from '../assert.ts';

const none = new Float64Array(0);

/**
 * The newest stretch of every channel, in one straight piece a channel, so that hot loops run over
 * plain indices. Positions count samples from the last `clear`; `columns[c][p − origin]` holds
 * position p. The holder drops what it has used. Storage is fixed at construction; a holder at rest
 * may `release` it, and takes it again with the next sample.
 */
export class SampleWindow {
  readonly columns: Float64Array[];
  readonly capacity: number;
  /** Position of the columns' first sample. */
  origin = 0;
  /** Position after the newest sample. */
  end = 0;

  constructor(channels: number, capacity: number) {
    this.capacity = capacity;
    this.columns = Array.from({ length: channels }, () => new Float64Array(capacity));
  }

  get room(): number {
    return this.capacity - (this.end - this.origin);
  }

  /** Appends `frames` samples of each channel from `offset`; there must be room. */
  append(channels: readonly Float64Array[], offset: number, frames: number): void {
    assert(frames <= this.room, 'samples appended to a full window');
    const at = this.end - this.origin;
    if (this.columns[0] === none) this.#take();
    for (let c = 0; c < this.columns.length; c++) {
      const column = this.columns[c]!;
      const source = channels[c]!;
      // A view costs an object; for a few samples the loop is cheaper than the object.
      if (frames < 32) for (let k = 0; k < frames; k++) column[at + k] = source[offset + k]!;
      else if (offset === 0 && frames === source.length) column.set(source, at);
      else column.set(source.subarray(offset, offset + frames), at);
    }
    this.end += frames;
  }

  /** Forgets everything before `position`. */
  drop(position: number): void {
    const used = position - this.origin;
    if (used <= 0) return;
    for (let c = 0; c < this.columns.length; c++) {
      this.columns[c]!.copyWithin(0, used, this.end - this.origin);
    }
    this.origin = position;
  }

  clear(): void {
    this.origin = 0;
    this.end = 0;
  }

  /** Forgets everything, and the storage with it. */
  release(): void {
    this.clear();
    this.columns.fill(none);
  }

  #take(): void {
    for (let c = 0; c < this.columns.length; c++) this.columns[c] = new Float64Array(this.capacity);
  }
}
