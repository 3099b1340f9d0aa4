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
  readonly #at = new Float64Array(MOST_MARKS);
  readonly #kind = new Uint8Array(MOST_MARKS);
  size = 0;
  /** Marks before this one have been measured. */
  pending = 0;

  add(at: number, kind: number): void {
    if (this.size === MOST_MARKS) {
      this.#at.copyWithin(0, 1);
      this.#kind.copyWithin(0, 1);
      this.size--;
      this.pending = Math.max(0, this.pending - 1);
    }
    this.#at[this.size] = at;
    this.#kind[this.size++] = kind;
  }

  at(mark: number): number {
    return this.#at[mark]!;
  }

  kind(mark: number): number {
    return this.#kind[mark]!;
  }

  /** Where a mark's windows may begin, and where they must end: none is looked at twice. */
  from(mark: number): number {
    return mark > 0 ? this.#between(mark - 1) : Number.NEGATIVE_INFINITY;
  }

  to(mark: number): number {
    return mark + 1 < this.size ? this.#between(mark) : Number.POSITIVE_INFINITY;
  }

  #between(mark: number): number {
    const [at, next] = [this.#at[mark]!, this.#at[mark + 1]!];
    if (this.#kind[mark] === GAP) return at;
    return this.#kind[mark + 1] === GAP ? next : (at + next) / 2;
  }
}
