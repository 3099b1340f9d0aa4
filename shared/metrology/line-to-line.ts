import { assert } from '../assert.ts';

/** Pairs, from 0, whose difference each voltage between two lines is, by pairs measured. */
export const linesBetween: readonly (readonly (readonly [number, number])[])[] = [
  [],
  [],
  [[0, 1]],
  [
    [0, 1],
    [1, 2],
    [2, 0],
  ],
];

/** Entries of a row: the measured pairs, then what lies between two of them. */
export const rowWidth = (pairs: number): number => pairs + linesBetween[pairs]!.length;

/** Measured pairs that entries of a row are made of, each once. */
export function linesOf(entries: readonly number[], pairs: number): number[] {
  const lines = new Set<number>();
  for (const entry of entries) {
    if (entry < pairs) lines.add(entry);
    else for (const line of linesBetween[pairs]![entry - pairs]!) lines.add(line);
  }
  return [...lines].sort((a, b) => a - b);
}

/**
 * The voltages between lines, sample by sample, beside the measured ones: a difference of r.m.s.
 * values would be right at one angle alone. v1 − v2 goes with (i1 − i2)/2 where two pairs are two
 * legs of one loop, and with i1 − i2 where three are phases: the ohms that are then seen are the
 * loop's of both legs, and one line's.
 */
export class LineToLine {
  readonly #pairs: number;
  readonly #most: number;
  /** Columns v1, i1, … of the block, then those of what lies between; an array that stays. */
  readonly #columns: Float64Array[];

  /** @param mostFrames the longest block that will come. */
  constructor(pairs: number, mostFrames: number) {
    assert(pairs === 2 || pairs === 3, 'there is something between two or three pairs');
    this.#pairs = pairs;
    this.#most = mostFrames;
    this.#columns = Array.from({ length: 2 * rowWidth(pairs) }, () => none);
  }

  /** The block's own columns and the derived ones; good until the next block. */
  take(channels: readonly Float64Array[], frames: number): readonly Float64Array[] {
    const columns = this.#columns;
    const pairs = this.#pairs;
    const part = pairs === 2 ? 0.5 : 1;
    for (let channel = 0; channel < 2 * pairs; channel++) columns[channel] = channels[channel]!;
    const between = linesBetween[pairs]!;
    for (let n = 0; n < between.length; n++) {
      const [one, other] = between[n]!;
      const at = 2 * (pairs + n);
      if (columns[at]!.length < frames) this.#makeRoom(at);
      subtract(channels[2 * one]!, channels[2 * other]!, 1, frames, columns[at]!);
      subtract(channels[2 * one + 1]!, channels[2 * other + 1]!, part, frames, columns[at + 1]!);
    }
    return columns;
  }

  /** Nothing comes for a while: the memory is given back. */
  rest(): void {
    this.#columns.fill(none);
  }

  #makeRoom(at: number): void {
    this.#columns[at] = new Float64Array(this.#most);
    this.#columns[at + 1] = new Float64Array(this.#most);
  }
}

const none = new Float64Array(0);

function subtract(
  one: Float64Array,
  other: Float64Array,
  part: number,
  frames: number,
  into: Float64Array,
): void {
  for (let k = 0; k < frames; k++) into[k] = part * (one[k]! - other[k]!);
}
