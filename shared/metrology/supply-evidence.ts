import { columns, singles } from './columns.ts';

/** Edges kept: of eighteen arcs, more than the wire's heating leaves comparable. */
const KEPT = 36;
/** Room beyond them for edges looked at before their windows are full. */
export const PROVISIONAL = 4;
export const MOST_EDGES = KEPT + PROVISIONAL;

/**
 * What is known of R and X: a pair of weighted equations y = aR·R + aX·X an arc's edge, one along
 * the voltage, from magnitudes (m…), one across it, from phases (p…), each with the variance that
 * the background gives its y. Columns; the oldest kept is overwritten.
 */
export class SupplyEvidence {
  readonly at: Float64Array;
  /** 1 where an arc began, 0 where one ended. */
  readonly began: Uint8Array;
  /** 1 where the edge is of the supply as it is now: what a contact was before it failed is not. */
  readonly used: Uint8Array;
  /** 1 once a step that no own current explains has been told. */
  readonly blamed: Uint8Array;
  readonly amps: Float32Array;
  /** Fundamental r.m.s. volts on the side without the arc. */
  readonly idleVolts: Float32Array;
  /** A²s given to the wire by then, as far as it has not cooled. */
  readonly heat: Float32Array;
  readonly lagRadians: Float32Array;
  readonly fundamentalShare: Float32Array;
  readonly mR: Float64Array;
  readonly mX: Float64Array;
  readonly mY: Float64Array;
  readonly mVariance: Float32Array;
  readonly pR: Float64Array;
  readonly pX: Float64Array;
  readonly pY: Float64Array;
  readonly pVariance: Float32Array;
  /** By how much the phase runs faster with the arc than without, V a cycle; and its variance. */
  readonly slip: Float32Array;
  readonly slipVariance: Float32Array;
  #kept = 0;
  #next = 0;
  #provisional = 0;
  /** Whether the newest edge is what the burning arc's end would be now. */
  guessed = false;

  constructor() {
    const flags = new Uint8Array(3 * MOST_EDGES);
    this.began = flags.subarray(0, MOST_EDGES);
    this.used = flags.subarray(MOST_EDGES, 2 * MOST_EDGES);
    this.blamed = flags.subarray(2 * MOST_EDGES);
    const column = columns(7, MOST_EDGES);
    const single = singles(9, MOST_EDGES);
    this.at = column();
    this.amps = single();
    this.idleVolts = single();
    this.heat = single();
    this.lagRadians = single();
    this.fundamentalShare = single();
    this.mR = column();
    this.mX = column();
    this.mY = column();
    this.mVariance = single();
    this.pR = column();
    this.pX = column();
    this.pY = column();
    this.pVariance = single();
    this.slip = single();
    this.slipVariance = single();
  }

  /** Edges to reckon with, provisional ones last. */
  get size(): number {
    return this.#kept + this.#provisional;
  }

  /** Column of the edge `index` of `size`, the oldest first. */
  column(index: number): number {
    if (index >= this.#kept) return KEPT + index - this.#kept;
    return this.#kept < KEPT ? index : (this.#next + index) % KEPT;
  }

  /** Where the next edge to keep is written; it counts once `keep` is called. */
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

  /** Lends an edge that only speaks for a contact that heats. */
  lendGuess(): void {
    this.#provisional++;
    this.guessed = true;
  }

  takeBack(): void {
    this.#provisional = 0;
    this.guessed = false;
  }
}
