import type { RecordingBlock } from './reader.ts';

/**
 * Takes the rows with a missing value out and tells them as lost. A value that was never measured
 * must not be measured from: repeated, it would read as a voltage. A row of which one channel is
 * missing goes as a whole, since a watt needs both.
 */
export class MissingRows {
  readonly #rows: { next(): RecordingBlock | null };
  readonly #missing: () => number;
  #block: RecordingBlock | null = null;
  /** First row of the block that was not looked at yet. */
  #at = 0;
  #gap = 0;
  /** Values missing so far, after the newest block and after the one before it. */
  #seen = 0;
  #seenBefore = 0;

  /**
   * @param rows What the recording marks as missing is not a number in them.
   * @param missing How many values that were so far.
   */
  constructor(rows: { next(): RecordingBlock | null }, missing: () => number) {
    this.#rows = rows;
    this.#missing = missing;
  }

  next(): RecordingBlock | null {
    for (;;) {
      const block = this.#block ?? this.#turn();
      if (block === null) return null;
      if (this.#block === null) return this.#given(block, 0, block.frames);
      const from = this.#at;
      const { channels, frames } = block;
      if (from < frames && isMissing(channels, from)) this.#gap += this.#run(from, true);
      else if (from < frames) return this.#given(block, from, this.#run(from, false));
      else this.#block = null;
    }
  }

  /** The next block; kept where rows of it are missing, else it may be given as it is. */
  #turn(): RecordingBlock | null {
    const block = this.#rows.next();
    if (block === null) return null;
    this.#gap += block.gapFrames;
    const missing = this.#missing();
    // A reader of text is a row ahead: what it counted with one block may lie in the next.
    if (missing > this.#seenBefore) {
      this.#block = block;
      this.#at = 0;
    }
    this.#seenBefore = this.#seen;
    this.#seen = missing;
    return block;
  }

  /** How many rows from `from` on are missing, or are not. */
  #run(from: number, missing: boolean): number {
    const { channels, frames } = this.#block!;
    let to = from + 1;
    while (to < frames && isMissing(channels, to) === missing) to++;
    this.#at = to;
    return to - from;
  }

  #given(block: RecordingBlock, from: number, frames: number): RecordingBlock {
    const gapFrames = this.#gap;
    this.#gap = 0;
    const part = (each: Float64Array) => each.subarray(from, from + frames);
    return { channels: from === 0 ? block.channels : block.channels.map(part), frames, gapFrames };
  }
}

function isMissing(channels: readonly Float64Array[], row: number): boolean {
  for (const channel of channels) if (Number.isNaN(channel[row]!)) return true;
  return false;
}
