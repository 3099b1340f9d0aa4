import { columns, singles } from './columns.ts';
import type { HalfCycleRow } from './row.ts';

const CAPACITY = 128;
const MASK = CAPACITY - 1;

/**
 * The latest 128 whole cycles of one pair (2.1 s at 60 Hz: an arc detector may be a second late
 * and a step's windows still be here). Takes those half-cycle rows that tile the time.
 *
 * Phasors are kept as they stand at the window's centre, where an error of the followed frequency
 * turns them least: a window one cycle long turns by half a turn from its start to its centre.
 */
export class CycleRing {
  readonly start: Float64Array;
  readonly end: Float64Array;
  /** The moment the phasors are of. */
  readonly centre: Float64Array;
  readonly hertz: Float32Array;
  readonly uRe: Float64Array;
  readonly uIm: Float64Array;
  readonly iRe: Float64Array;
  readonly iIm: Float64Array;
  readonly urms: Float32Array;
  readonly irms: Float32Array;
  readonly watts: Float32Array;
  size = 0;
  #next = 0;
  #lastEnd = Number.NEGATIVE_INFINITY;

  constructor() {
    const column = columns(7, CAPACITY);
    const single = singles(4, CAPACITY);
    this.start = column();
    this.end = column();
    this.centre = column();
    this.hertz = single();
    this.uRe = column();
    this.uIm = column();
    this.iRe = column();
    this.iIm = column();
    this.urms = single();
    this.irms = single();
    this.watts = single();
  }

  /** True where the row began a new cycle and was kept. Rows without a lock are no evidence. */
  push(row: HalfCycleRow, pair: number): boolean {
    const cycle = row.end - row.start;
    if (!row.locked || row.start < this.#lastEnd - cycle / 4) return false;
    if (!Number.isFinite(row.urms[pair]! + row.irms[pair]!)) return false;
    const slot = this.#next;
    this.#next = (slot + 1) & MASK;
    if (this.size < CAPACITY) this.size++;
    this.#lastEnd = row.end;
    this.start[slot] = row.start;
    this.end[slot] = row.end;
    // Each half cycle's phasor is of its own middle.
    this.centre[slot] = (row.start + 2 * row.middle + row.end) / 4;
    this.hertz[slot] = row.hertz;
    this.uRe[slot] = -row.u1re[pair]!;
    this.uIm[slot] = -row.u1im[pair]!;
    this.iRe[slot] = -row.i1re[pair]!;
    this.iIm[slot] = -row.i1im[pair]!;
    this.urms[slot] = row.urms[pair]!;
    this.irms[slot] = row.irms[pair]!;
    this.watts[slot] = row.watts[pair]!;
    return true;
  }

  /** Where the cycle stands that is `age` cycles older than the newest. */
  slot(age: number): number {
    return (this.#next - 1 - age) & MASK;
  }

  /** |V + Z·I|: the magnitude of the open-circuit voltage if the supply's impedance is R + jX. */
  openVolts(slot: number, ohmsR: number, ohmsX: number): number {
    const ire = this.iRe[slot]!;
    const iim = this.iIm[slot]!;
    const re = this.uRe[slot]! + ohmsR * ire - ohmsX * iim;
    const im = this.uIm[slot]! + ohmsR * iim + ohmsX * ire;
    return Math.sqrt(re * re + im * im);
  }

  /** |I − I'| of two cycles, each against its own voltage, fundamental r.m.s. */
  currentChange(slot: number, other: number): number {
    const u = Math.sqrt(this.uRe[slot]! ** 2 + this.uIm[slot]! ** 2);
    const v = Math.sqrt(this.uRe[other]! ** 2 + this.uIm[other]! ** 2);
    const along = this.along(slot) / u - this.along(other) / v;
    const across = this.across(slot) / u - this.across(other) / v;
    return Math.sqrt(along * along + across * across);
  }

  /** Re and Im of I·conj(V): the fundamental's watts, and minus its vars. */
  along(slot: number): number {
    return this.iRe[slot]! * this.uRe[slot]! + this.iIm[slot]! * this.uIm[slot]!;
  }

  across(slot: number): number {
    return this.iIm[slot]! * this.uRe[slot]! - this.iRe[slot]! * this.uIm[slot]!;
  }
}
