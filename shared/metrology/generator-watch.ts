import type { Amperes, Fraction, Hertz, SampleIndex, Volts } from '../units.ts';
import type { CycleRing } from './cycle-ring.ts';

/** What an engine set did under the arcs so far. */
export interface GeneratorFigures {
  /** Before the arcs, and lowest and highest while they burned and just after. */
  hertzIdle: Hertz;
  hertzLow: Hertz;
  hertzHigh: Hertz;
  /** Deepest dip as an arc began, part of the voltage before it. */
  dip: Fraction;
  /** What the newest arc settled at, one entry a pair; null while that is not known. */
  settled: readonly { volts: Volts; amps: Amperes }[] | null;
}

/** Cycles of one reading of the frequency: 0.2 s at 60 Hz. */
const WINDOW = 12;
/** Cycles beside an edge that the followed borders need to settle. */
const GUARD = 6;
/** A frequency that moves by this much with an arc is no grid's: common practice, no source. An
 * interconnected network moves by 0.02 Hz within seconds (from memory). */
const MOVED_HERTZ = 0.2;
/** After an arc a set that sheds its load overshoots for this long. */
const AFTER_S = 1.5;
/** Cycles at an arc's end whose mean voltage has settled: half a second, half of a short arc. */
const SETTLED = 30;

/**
 * Tells an engine set from a grid by a frequency that moves with the arcs, by droop or for as long
 * as the governor needs; and says what its voltage did, since no fixed E, R and X describes it.
 * One for all pairs of a stream; the first pair's cycles give the time.
 */
export class GeneratorWatch {
  readonly #rings: readonly CycleRing[];
  readonly #rateHz: Hertz;
  readonly #idleVolts: Float64Array;
  #idle = 0.5;
  #idleSum = 0.5;
  #low = Number.POSITIVE_INFINITY;
  #high = 0.5;
  #dip = 0.5;
  #began = 0.5;
  /** Frequency is read of cycles between these. */
  #from = Number.POSITIVE_INFINITY;
  #until = Number.NEGATIVE_INFINITY;
  #inArc = false;
  #settled: { volts: Volts; amps: Amperes }[] | null = null;
  #arcs = 0;
  #moved = 0;
  #counted = false;

  constructor(rings: readonly CycleRing[], rateHz: Hertz) {
    this.#rings = rings;
    this.#rateHz = rateHz;
    this.#idleVolts = new Float64Array(rings.length);
    this.#idleSum = this.#high = this.#dip = 0;
  }

  /** A cycle has joined the rings. */
  cycle(): void {
    const ring = this.#rings[0]!;
    if (ring.size <= WINDOW) return;
    if (this.#inArc) this.#dips(0);
    if (ring.end[ring.slot(0)]! > this.#until) return;
    if (ring.start[ring.slot(WINDOW - 1)]! < this.#from) return;
    const hertz = this.#hertz(0);
    if (Number.isNaN(hertz)) return;
    this.#low = Math.min(this.#low, hertz);
    this.#high = Math.max(this.#high, hertz);
    if (this.#counted || Math.abs(hertz - this.#idle) < MOVED_HERTZ) return;
    this.#counted = true;
    this.#moved++;
  }

  arcBegan(at: SampleIndex): void {
    const age = this.#ageBefore(at - this.#cycle());
    if (this.#rings[0]!.size <= age + WINDOW) return;
    const idle = this.#hertz(age);
    if (Number.isNaN(idle)) return;
    this.#idle = idle;
    this.#idleSum += this.#idle;
    this.#arcs++;
    this.#counted = false;
    this.#inArc = true;
    this.#began = at;
    this.#from = at + GUARD * this.#cycle();
    this.#until = Number.POSITIVE_INFINITY;
    this.#settled = null;
    this.#rings.forEach((ring, pair) => {
      this.#idleVolts[pair] = mean(ring, ring.urms, age, WINDOW);
    });
    // What came between the arc and its being told.
    for (let back = age; back-- > 0; ) this.#dips(back);
  }

  /** Samples lost: what follows must settle first. */
  skip(): void {
    const ring = this.#rings[0]!;
    if (ring.size === 0) return;
    const end = ring.end[ring.slot(0)]!;
    this.#from = Math.max(this.#from, end + WINDOW * this.#cycle());
  }

  arcEnded(at: SampleIndex): void {
    if (!this.#inArc) return;
    this.#inArc = false;
    this.#settled = this.#settle(at);
    this.#from = at + GUARD * this.#cycle();
    this.#until = at + AFTER_S * this.#rateHz;
  }

  /** Null where the frequency does not move with the load. */
  figures(): GeneratorFigures | null {
    if (this.#moved === 0 || this.#moved < this.#arcs / 2) return null;
    const newest = this.#rings[0]!;
    return {
      hertzIdle: this.#idleSum / this.#arcs,
      hertzLow: Math.min(this.#low, this.#idle),
      hertzHigh: Math.max(this.#high, this.#idle),
      dip: this.#dip,
      settled: this.#inArc ? this.#settle(newest.end[newest.slot(0)]!) : this.#settled,
    };
  }

  /** Means of the last cycles before `end`, no more than half of the arc's. */
  #settle(end: SampleIndex): { volts: Volts; amps: Amperes }[] | null {
    const age = this.#ageBefore(end - this.#cycle());
    const half = Math.floor((end - this.#began) / this.#cycle() / 2);
    const count = Math.min(SETTLED, half, this.#rings[0]!.size - age);
    if (count < 1) return null;
    return this.#rings.map((ring) => ({
      volts: mean(ring, ring.urms, age, count),
      amps: mean(ring, ring.irms, age, count),
    }));
  }

  #dips(age: number): void {
    this.#rings.forEach((ring, pair) => {
      const idle = this.#idleVolts[pair]!;
      if (idle > 0) this.#dip = Math.max(this.#dip, 1 - ring.urms[ring.slot(age)]! / idle);
    });
  }

  #cycle(): number {
    const ring = this.#rings[0]!;
    const slot = ring.slot(0);
    return ring.size === 0 ? 0 : ring.end[slot]! - ring.start[slot]!;
  }

  /** Age of the newest cycle that ends before `at`. */
  #ageBefore(at: SampleIndex): number {
    const ring = this.#rings[0]!;
    let age = 0;
    while (age < ring.size && ring.end[ring.slot(age)]! > at) age++;
    return age;
  }

  /** Of the window whose newest cycle is `age` old; not a number across a gap. */
  #hertz(age: number): Hertz {
    const ring = this.#rings[0]!;
    const samples = ring.end[ring.slot(age)]! - ring.start[ring.slot(age + WINDOW - 1)]!;
    if (samples > (WINDOW + 0.5) * this.#cycle()) return Number.NaN;
    return (WINDOW * this.#rateHz) / samples;
  }
}

function mean(ring: CycleRing, column: Float32Array, age: number, count: number): number {
  let sum = 0;
  for (let k = 0; k < count; k++) sum += column[ring.slot(age + k)]!;
  return sum / count;
}
