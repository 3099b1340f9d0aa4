import type { IntervalRow } from '../metrology/interval-row.ts';
import { rowWidth } from '../metrology/line-to-line.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import type { PhaseEvidence, WaveformEvidence } from '../rules/facts.ts';
import { supplyVolts } from '../rules/wiring.ts';
import type { Hertz, Volts } from '../units.ts';
import { LegSwing } from './leg-swing.ts';
import { SettledVolts } from './settled-volts.ts';

/** Weight of a new half cycle in the idle voltage: a second at 50 Hz. */
const idleWeight = 0.01;

/** What is seen of a supply beside its arcs: frequency, imbalance, the voltage with no arc. */
export class Surroundings {
  readonly #rateHz: Hertz;
  readonly #pairs: number;
  /** Entries of a row. */
  readonly #width: number;
  readonly #idle: Float64Array;
  readonly #settled: SettledVolts;
  #idleSeen = false;
  #halves = 0;
  #lockedSamples = 0.0;
  #hertzLow = Number.POSITIVE_INFINITY;
  #hertzHigh = Number.NEGATIVE_INFINITY;
  #thd: number | null = null;
  #crest: number | null = null;
  /** The greatest imbalance of the whole stream, and since `arcBegan`. */
  readonly #all: Imbalance;
  readonly #arc: Imbalance;
  readonly #swing: LegSwing | null;
  #burning = false;

  constructor(rateHz: Hertz, pairs: number) {
    this.#rateHz = rateHz;
    this.#pairs = pairs;
    this.#width = rowWidth(pairs);
    this.#idle = new Float64Array(this.#width);
    this.#settled = new SettledVolts(this.#width);
    this.#all = new Imbalance(pairs);
    this.#arc = new Imbalance(pairs);
    this.#swing = pairs === 2 ? new LegSwing() : null;
  }

  halfCycle(row: HalfCycleRow, burning: boolean): void {
    if (row.locked) {
      this.#halves += 1;
      this.#lockedSamples += row.end - row.middle;
    }
    this.#burning = burning;
    if (burning) return;
    const weight = this.#idleSeen ? idleWeight : 1;
    for (let at = 0; at < this.#width; at++)
      this.#idle[at] = this.#idle[at]! + weight * (row.urms[at]! - this.#idle[at]!);
    this.#idleSeen = true;
    this.#settled.add(row.urms);
  }

  /** A 10/12-cycle value. */
  interval(row: IntervalRow, cycles: number): void {
    const quiet = row.whole && row.parts === cycles && !this.#burning;
    this.#swing?.take(row.urms[0]!, row.urms[1]!, quiet);
    if (!row.whole || row.parts !== cycles) return;
    if (!row.flagged) {
      const hertz = (row.parts * this.#rateHz) / (row.end - row.start);
      this.#hertzLow = Math.min(this.#hertzLow, hertz);
      this.#hertzHigh = Math.max(this.#hertzHigh, hertz);
    }
    if (this.#pairs === 1) return;
    const at = (row.start + row.end) / 2 / this.#rateHz;
    this.#all.take(row.urms, at);
    this.#arc.take(row.urms, at);
  }

  /** Highest distortion, percent, and lowest crest factor of a window's voltages. */
  distortion(percent: number, crest: number): void {
    this.#thd = Math.max(this.#thd ?? 0, percent);
    this.#crest = Math.min(this.#crest ?? crest, crest);
  }

  arcBegan(): void {
    this.#arc.clear();
  }

  /** Over all whole cycles that were followed. */
  get frequencyHz(): Hertz | null {
    if (this.#halves === 0) return null;
    return (this.#halves * this.#rateHz) / (2 * this.#lockedSamples);
  }

  /** One entry of a row each. */
  get idleVolts(): Volts[] | null {
    return this.#idleSeen ? [...this.#idle] : null;
  }

  idleVoltsOf(loops: readonly number[]): Volts[] | null {
    return this.#idleSeen ? loops.map((loop) => this.#idle[loop]!) : null;
  }

  /** The best of the machine's loops over the last idle seconds; null before there was one. */
  openVoltsOf(loops: readonly number[]): Volts | null {
    const settled = loops.map((loop) => this.#settled.of(loop));
    const known = settled.includes(null) ? this.idleVoltsOf(loops) : (settled as Volts[]);
    return known && supplyVolts(known);
  }

  phases(of: 'arc' | 'all'): PhaseEvidence | null {
    const worst = of === 'arc' ? (this.#arc.worst() ?? this.#all.worst()) : this.#all.worst();
    return worst && this.#swing ? { ...worst, swing: this.#swing.evidence() } : worst;
  }

  waveform(): WaveformEvidence {
    const seen = this.#hertzHigh > 0;
    return {
      hertzLow: seen ? this.#hertzLow : null,
      hertzHigh: seen ? this.#hertzHigh : null,
      thdVoltsPercent: this.#thd,
      crest: this.#crest,
    };
  }
}

/**
 * The moment at which two legs lay furthest apart, or three voltages between lines: those of three
 * phases to neutral are far apart in a healthy high-leg delta.
 */
class Imbalance {
  readonly #pairs: number;
  readonly #volts: Float64Array;
  #atS = 0.0;
  #spread = -1.0;

  constructor(pairs: number) {
    this.#pairs = pairs;
    this.#volts = new Float64Array(rowWidth(pairs));
  }

  take(volts: Float64Array, atS: number): void {
    let low = Number.POSITIVE_INFINITY;
    let high = 0.0;
    const from = this.#pairs === 3 ? 3 : 0;
    for (let pair = from; pair < from + this.#pairs; pair++) {
      low = Math.min(low, volts[pair]!);
      high = Math.max(high, volts[pair]!);
    }
    const spread = high > 0 ? (high - low) / high : 0;
    if (spread <= this.#spread) return;
    this.#spread = spread;
    this.#atS = atS;
    this.#volts.set(volts);
  }

  clear(): void {
    this.#spread = -1;
  }

  worst(): PhaseEvidence | null {
    if (this.#spread < 0) return null;
    const all = [...this.#volts];
    return { volts: all.slice(0, this.#pairs), between: all.slice(this.#pairs), atS: this.#atS };
  }
}
