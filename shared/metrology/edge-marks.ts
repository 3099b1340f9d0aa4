/** Marks remembered: begins, ends and gaps; ten tacks within a second still have theirs. */
const MOST_MARKS = 24;

export const GAP = 0;
export const BEGAN = 1;
export const ENDED = 2;

/**
 * Where arcs began and ended and samples were lost, the newest 24; and how many of them have been
 * measured for good.
 */
export class EdgeMarks {
  /** Sample, then kind, of each. */
  readonly #marks = new Float64Array(2 * MOST_MARKS);
  size = 0;
  /** Marks before this one have been measured. */
  pending = 0;

  add(at: number, kind: number): void {
    if (this.size === MOST_MARKS) {
      this.#marks.copyWithin(0, 2);
      this.size--;
      this.pending = Math.max(0, this.pending - 1);
    }
    this.#marks[2 * this.size] = at;
    this.#marks[2 * this.size++ + 1] = kind;
  }

  at(mark: number): number {
    return this.#marks[2 * mark]!;
  }

  kind(mark: number): number {
    return this.#marks[2 * mark + 1]!;
  }

  /** Where a mark's windows may begin, and where they must end: none is looked at twice. */
  from(mark: number): number {
    return mark > 0 ? this.#between(mark - 1) : Number.NEGATIVE_INFINITY;
  }

  to(mark: number): number {
    return mark + 1 < this.size ? this.#between(mark) : Number.POSITIVE_INFINITY;
  }

  #between(mark: number): number {
    const [at, next] = [this.at(mark), this.at(mark + 1)];
    if (this.kind(mark) === GAP) return at;
    return this.kind(mark + 1) === GAP ? next : (at + next) / 2;
  }
}
