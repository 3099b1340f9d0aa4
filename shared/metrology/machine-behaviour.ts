import type { Hertz, SampleIndex } from '../units.ts';
import { singles } from './columns.ts';
import { CycleRing } from './cycle-ring.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';
import { studentFactor95 } from './student.ts';
import type { Interval, SupplyEstimate } from './supply-estimate.ts';

export type Behaviour = 'constant-power' | 'constant-impedance' | 'unknown';

export interface MachineFit {
  behaviour: Behaviour;
  /** k of P ∝ V^k: 0 constant power, 2 constant impedance; null where nothing moved. */
  exponent: number | null;
  exponent95: Interval | null;
  /** Largest outside change of voltage that the fit saw, part of the voltage. */
  spread: number;
}

export interface MachineOptions {
  rateHz: Hertz;
  nominalHertz: 50 | 60;
  pair: number;
  /** As of `SupplyOptions`. */
  ring?: CycleRing;
}

/** A block: 0.2 s at 60 Hz, long against droplets and short against the welder's hand. */
const BLOCK = 12;
/** The end of an arc is told late: inside it is only what is older than this. */
const DELAY_CYCLES = 60;
const GUARD_CYCLES = 5.9;
/** An outside change is looked at from this part of the voltage; below it is background … */
const LEAST_CHANGE = 0.004;
/** … beyond this it is a fault of the supply, and the machine is no longer itself … */
const MOST_CHANGE = 0.2;
/** … and only where it is this many times what the impedance's uncertainty could feign. */
const DOMINATES = 4;
/** Arcs compared with one another, the latest. */
const MOST_ARCS = 32;
const LEAST_ARCS = 4;
const LEAST_SPREAD = 0.01;
/** Half way between constant power (0) and constant impedance (2), and as far beyond both. */
const MIDWAY = 1;
const BEYOND = 3;

/**
 * How the machine's power answers to its voltage: the exponent k of P ∝ V^k.
 *
 * Power cannot simply be fitted against voltage. In one arc on one supply V = E − Z·I: whatever
 * the weld does to the current comes back in the voltage, and the fit would return the supply.
 * What tells the machine is a voltage that moved from outside, so the open-circuit voltage E
 * serves as instrument: k = Σ δlnE·δlnP / Σ δlnE·δlnV. Two sources, joined by their variances:
 * steps of E while an arc burns (another load; E = |V + Z·I| with the estimated Z), block against
 * block; and differences between arcs, with E read on the idle machine before each, where no Z is
 * needed. How much the weld itself scatters is learnt beside it; where E hardly moved the
 * interval is wide and the answer is unknown.
 */
export class MachineBehaviour implements HalfCycleSink {
  readonly #pair: number;
  readonly #ring: CycleRing;
  #ohmsR = 0.5;
  #ohmsX = 0.5;
  #ohmsUnsure = Number.POSITIVE_INFINITY;
  #from = Number.POSITIVE_INFINITY;
  #idle = Number.NaN;
  /** The block before, of the same arc: ln E, ln V, ln P, amperes. NaN where there is none. */
  readonly #before = new Float64Array(4);
  readonly #now = new Float64Array(4);
  #arcBlocks = 0;
  #arcVolts = 0.5;
  #arcWatts = 0.5;
  /** Sums over blocks that an outside change separates, and the scatter of the others. */
  #changes = 0;
  #ee = 0.5;
  #ev = 0.5;
  #ep = 0.5;
  #largest = 0.5;
  #stills = 0;
  #stillSquares = 0.5;
  /** One arc a column: ln of idle volts, of mean volts, of mean watts. */
  readonly #e: Float32Array;
  readonly #v: Float32Array;
  readonly #p: Float32Array;
  #arcs = 0;

  constructor(options: MachineOptions) {
    this.#pair = options.pair;
    const single = singles(3, MOST_ARCS);
    this.#e = single();
    this.#v = single();
    this.#p = single();
    this.#ring = options.ring ?? new CycleRing();
    this.#ohmsR = this.#ohmsX = this.#arcVolts = this.#arcWatts = 0;
    this.#ee = this.#ev = this.#ep = this.#largest = this.#stillSquares = 0;
  }

  halfCycle(row: HalfCycleRow): void {
    if (this.#ring.push(row, this.#pair)) this.cycle();
  }

  /** A cycle has joined the ring. */
  cycle(): void {
    if (this.#from === Number.POSITIVE_INFINITY || this.#ring.size <= DELAY_CYCLES) return;
    this.#block(DELAY_CYCLES, Number.POSITIVE_INFINITY);
  }

  arcBegan(at: SampleIndex): void {
    this.#idle = this.#idleVolts(at);
    this.#from = at + GUARD_CYCLES * this.#cycle();
    this.#before.fill(Number.NaN);
    this.#arcBlocks = this.#arcVolts = this.#arcWatts = 0;
  }

  arcEnded(at: SampleIndex): void {
    const to = at - GUARD_CYCLES * this.#cycle();
    const oldest = Math.min(this.#ring.size - 1, DELAY_CYCLES);
    for (let age = oldest; age >= BLOCK - 1; age--) this.#block(age, to);
    this.#from = Number.POSITIVE_INFINITY;
    if (this.#arcBlocks === 0 || !(this.#idle > 0)) return;
    const column = this.#arcs++ % MOST_ARCS;
    this.#e[column] = Math.log(this.#idle);
    this.#v[column] = this.#arcVolts / this.#arcBlocks;
    this.#p[column] = this.#arcWatts / this.#arcBlocks;
  }

  /** Samples lost: the blocks on either side are no neighbours. */
  skip(_frames: number): void {
    this.#before.fill(Number.NaN);
  }

  /** The supply as now known; call it whenever an arc has ended. */
  supply(estimate: SupplyEstimate | null): void {
    if (estimate === null) return;
    this.#ohmsR = estimate.ohmsR;
    this.#ohmsX = estimate.ohmsX;
    this.#ohmsUnsure =
      estimate.coverage * Math.sqrt(estimate.varianceR + estimate.varianceX) +
      0.02 * Math.hypot(estimate.ohmsR, estimate.ohmsX);
  }

  fit(): MachineFit {
    const inside = this.#inside();
    const between = this.#between();
    const spread = Math.max(inside.spread, between.spread);
    const weight = 1 / inside.variance + 1 / between.variance;
    if (!(weight > 0)) return { behaviour: 'unknown', exponent: null, exponent95: null, spread };
    const exponent =
      (inside.exponent / inside.variance + between.exponent / between.variance) / weight;
    const lesser = inside.variance < between.variance ? inside : between;
    const half = studentFactor95(lesser.degrees) / Math.sqrt(weight);
    const exponent95: Interval = [exponent - half, exponent + half];
    return { behaviour: behaviourOf(exponent95), exponent, exponent95, spread };
  }

  #cycle(): number {
    const slot = this.#ring.slot(0);
    return this.#ring.size === 0 ? 0 : this.#ring.end[slot]! - this.#ring.start[slot]!;
  }

  /** Mean open-circuit voltage of a block that ends a cycle before `at`; NaN if there is none. */
  #idleVolts(at: number): number {
    const ring = this.#ring;
    let sum = 0;
    let count = 0;
    for (let age = 0; age < ring.size && count < BLOCK; age++) {
      const slot = ring.slot(age);
      if (ring.end[slot]! > at - this.#cycle()) continue;
      sum += ring.openVolts(slot, this.#ohmsR, this.#ohmsX);
      count++;
    }
    return sum / count;
  }

  /** The block whose oldest cycle is `age` old, if it is whole, new and inside the arc. */
  #block(age: number, to: number): void {
    const ring = this.#ring;
    const first = ring.slot(age);
    const last = ring.slot(age - BLOCK + 1);
    if (ring.start[first]! < this.#from || ring.end[last]! > to) return;
    const cycle = ring.end[first]! - ring.start[first]!;
    if (ring.end[last]! - ring.start[first]! > (BLOCK + 0.5) * cycle) return;
    this.#from = ring.end[last]! - cycle / 4;
    this.#now.fill(0);
    for (let k = 0; k < BLOCK; k++) {
      const slot = ring.slot(age - k);
      this.#now[0]! += ring.openVolts(slot, this.#ohmsR, this.#ohmsX) / BLOCK;
      this.#now[1]! += ring.urms[slot]! / BLOCK;
      this.#now[2]! += ring.watts[slot]! / BLOCK;
      this.#now[3]! += ring.irms[slot]! / BLOCK;
    }
    if (!(this.#now[1]! > 0 && this.#now[2]! > 0)) return;
    for (let k = 0; k < 3; k++) this.#now[k] = Math.log(this.#now[k]!);
    this.#arcBlocks++;
    this.#arcVolts += this.#now[1]!;
    this.#arcWatts += this.#now[2]!;
    this.#compare();
    this.#before.set(this.#now);
  }

  #compare(): void {
    const e = this.#now[0]! - this.#before[0]!;
    const v = this.#now[1]! - this.#before[1]!;
    const p = this.#now[2]! - this.#before[2]!;
    if (Number.isNaN(e)) return;
    const amps = Math.abs(this.#now[3]! - this.#before[3]!);
    const feigned = (this.#ohmsUnsure * amps) / Math.exp(this.#now[0]!);
    if (Math.abs(e) < LEAST_CHANGE) {
      this.#stills++;
      this.#stillSquares += p * p;
    } else if (Math.abs(e) > DOMINATES * feigned && Math.abs(e) < MOST_CHANGE) {
      this.#changes++;
      this.#ee += e * e;
      this.#ev += e * v;
      this.#ep += e * p;
      this.#largest = Math.max(this.#largest, Math.abs(e));
    }
  }

  /** From steps while an arc burned; their noise is what power does when nothing steps. */
  #inside(): Part {
    if (this.#changes === 0 || this.#stills < 3 || !(this.#ev > 0)) return nothing;
    const exponent = this.#ep / this.#ev;
    const square = this.#stillSquares / this.#stills;
    const variance = (square * this.#ee) / (this.#ev * this.#ev);
    return { exponent, variance, degrees: this.#stills, spread: this.#largest };
  }

  /** From arc to arc. */
  #between(): Part {
    const count = Math.min(this.#arcs, MOST_ARCS);
    if (count < LEAST_ARCS) return nothing;
    const e = mean(this.#e, count);
    const v = mean(this.#v, count);
    const p = mean(this.#p, count);
    let ee = 0;
    let ev = 0;
    let ep = 0;
    let least = 0;
    let most = 0;
    for (let k = 0; k < count; k++) {
      const off = this.#e[k]! - e;
      ee += off * off;
      ev += off * (this.#v[k]! - v);
      ep += off * (this.#p[k]! - p);
      least = Math.min(least, off);
      most = Math.max(most, off);
    }
    const spread = most - least;
    if (spread < LEAST_SPREAD || !(ev > 0)) return { ...nothing, spread };
    const exponent = ep / ev;
    let squares = 0;
    for (let k = 0; k < count; k++) {
      squares += (this.#p[k]! - p - exponent * (this.#v[k]! - v)) ** 2;
    }
    const degrees = count - 2;
    return { exponent, variance: ((squares / degrees) * ee) / (ev * ev), degrees, spread };
  }
}

interface Part {
  exponent: number;
  variance: number;
  degrees: number;
  spread: number;
}

const nothing: Part = {
  exponent: 0,
  variance: Number.POSITIVE_INFINITY,
  degrees: 1,
  spread: 0,
};

function mean(values: Float32Array, count: number): number {
  let sum = 0;
  for (let k = 0; k < count; k++) sum += values[k]!;
  return sum / count;
}

function behaviourOf([lo, hi]: Interval): Behaviour {
  if (hi < MIDWAY && lo > MIDWAY - BEYOND) return 'constant-power';
  if (lo > MIDWAY && hi < MIDWAY + BEYOND) return 'constant-impedance';
  return 'unknown';
}
