import type { RecordingBlock } from './reader.ts';

/** Rows before and after a row that its interpolation reaches. */
const reach = 2;
/** A lag below this part of a sample is left alone: 0.4 mrad of 60 Hz at 1 kHz. */
const leastLag = 1e-3;
/** A lag of a sample or more is no skew between channels of one row. */
const mostLag = 1;

interface Rows {
  next(): RecordingBlock | null;
}

/** Whether a channel sampled so much later than its row's time is to be moved. */
export function isSkewed(lagSamples: number): boolean {
  return Math.abs(lagSamples) >= leastLag && Math.abs(lagSamples) < mostLag;
}

/**
 * Moves channels that were sampled after (before) their row's time back onto it, by the cubic
 * through four neighbours; without it a skew of 50 us reads as 1.1 degrees of phase at 60 Hz. At
 * the ends of a stretch, and beside a gap, the outermost row is repeated.
 */
export class Deskew {
  readonly #rows: Rows;
  readonly #lags: readonly number[];
  readonly #work: Float64Array[];
  readonly #out: Float64Array[];
  /** Rows in `#work`: `reach` behind the next to give, then those still to give. */
  #filled = 0;
  #gapFrames = 0;
  #ahead: RecordingBlock | null | undefined;

  /** @param lags How much later than its row each channel was sampled, in samples. */
  constructor(rows: Rows, lags: readonly number[], mostFrames: number) {
    this.#rows = rows;
    this.#lags = lags;
    this.#work = lags.map(() => new Float64Array(mostFrames + 3 * reach));
    this.#out = lags.map(() => new Float64Array(mostFrames + reach));
  }

  next(): RecordingBlock | null {
    for (;;) {
      const block = this.#ahead === undefined ? this.#rows.next() : this.#ahead;
      if (!block) return null;
      if (this.#filled === 0) {
        this.#gapFrames = block.gapFrames;
        for (let i = 0; i < reach; i++) this.#append(block, 0, 1);
      }
      this.#append(block, 0, block.frames);
      const ahead = this.#rows.next();
      this.#ahead = ahead;
      const ends = !ahead || ahead.gapFrames > 0;
      if (ends) this.#repeatLast();
      const frames = this.#filled - 2 * reach;
      if (frames > 0) return this.#give(frames, ends);
    }
  }

  #append(block: RecordingBlock, from: number, frames: number): void {
    for (const [index, work] of this.#work.entries())
      work.set(block.channels[index]!.subarray(from, from + frames), this.#filled);
    this.#filled += frames;
  }

  #repeatLast(): void {
    for (const work of this.#work)
      work.fill(work[this.#filled - 1]!, this.#filled, this.#filled + reach);
    this.#filled += reach;
  }

  #give(frames: number, ends: boolean): RecordingBlock {
    for (const [index, out] of this.#out.entries())
      shift(this.#work[index]!, this.#lags[index]!, frames, out);
    for (const work of this.#work) work.copyWithin(0, frames, this.#filled);
    this.#filled = ends ? 0 : 2 * reach;
    const gapFrames = this.#gapFrames;
    this.#gapFrames = 0;
    return { channels: this.#out, frames, gapFrames };
  }
}

/** Lagrange's cubic through four samples, at a place fixed for the whole channel. */
function shift(work: Float64Array, lag: number, frames: number, out: Float64Array): void {
  if (!isSkewed(lag)) {
    out.set(work.subarray(reach, reach + frames));
    return;
  }
  const whole = Math.floor(-lag);
  const part = -lag - whole;
  const before = (-part * (part - 1) * (part - 2)) / 6;
  const here = ((part + 1) * (part - 1) * (part - 2)) / 2;
  const after = (-(part + 1) * part * (part - 2)) / 2;
  const beyond = ((part + 1) * part * (part - 1)) / 6;
  for (let row = 0; row < frames; row++) {
    const at = row + reach + whole;
    out[row] =
      before * work[at - 1]! + here * work[at]! + after * work[at + 1]! + beyond * work[at + 2]!;
  }
}
