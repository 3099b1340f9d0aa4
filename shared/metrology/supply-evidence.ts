import { columns } from './columns.ts';

/** Pieces of evidence kept: twenty arcs, more than the wire's heating leaves comparable. */
const KEPT = 64;
/** Room beyond them for steps looked at before their windows are full. */
export const PROVISIONAL = 4;

/**
 * What is known of R and X, as pairs of weighted equations y = aR·R + aX·X: one along the
 * voltage, from magnitudes (m…), one across it, from phases (p…), each with the variance that
 * the background gives its y. Columns; the oldest kept is overwritten.
 */
export class SupplyEvidence {
  readonly at: Float64Array;
  /** 1 for a step at an arc's begin or end, 0 for the ripple inside an arc. */
  readonly isStep = new Uint8Array(KEPT + PROVISIONAL);
  /** 1 once a step that no own current explains has been told. */
  readonly blamed = new Uint8Array(KEPT + PROVISIONAL);
  readonly amps: Float64Array;
  /** A²s given to the wire by then, as far as it has not cooled. */
  readonly heat: Float64Array;
  readonly lagRadians: Float64Array;
  readonly fundamentalShare: Float64Array;
  readonly mR: Float64Array;
  readonly mX: Float64Array;
  readonly mY: Float64Array;
  readonly mVariance: Float64Array;
  readonly pR: Float64Array;
  readonly pX: Float64Array;
  readonly pY: Float64Array;
  readonly pVariance: Float64Array;
  #kept = 0;
  #next = 0;
  #provisional = 0;

  constructor() {
    const column = columns(13, KEPT + PROVISIONAL);
    this.at = column();
    this.amps = column();
    this.heat = column();
    this.lagRadians = column();
    this.fundamentalShare = column();
    this.mR = column();
    this.mX = column();
    this.mY = column();
    this.mVariance = column();
    this.pR = column();
    this.pX = column();
    this.pY = column();
    this.pVariance = column();
  }

  /** Pieces to reckon with, provisional ones last. */
  get size(): number {
    return this.#kept + this.#provisional;
  }

  /** Column of the piece `index` of `size`. */
  column(index: number): number {
    return index < this.#kept ? index : KEPT + index - this.#kept;
  }

  /** Where the next piece to keep is written; it counts once `keep` is called. */
  get open(): number {
    return this.#next;
  }

  keep(): void {
    this.#next = (this.#next + 1) % KEPT;
    this.#kept = Math.min(this.#kept + 1, KEPT);
  }

  get openProvisional(): number {
    return KEPT + this.#provisional;
  }

  lend(): void {
    this.#provisional++;
  }

  takeBack(): void {
    this.#provisional = 0;
  }
}
