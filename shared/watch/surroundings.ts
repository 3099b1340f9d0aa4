import type { IntervalRow } from '../metrology/interval-row.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import type { PhaseEvidence, WaveformEvidence } from '../rules/facts.ts';
import type { Hertz, Volts } from '../units.ts';

/** Weight of a new half cycle in the idle voltage: a second at 50 Hz. */
const idleWeight = 0.01;

/** What is seen of a supply beside its arcs: frequency, imbalance, the voltage with no arc. */
export class Surroundings {
  readonly #rateHz: Hertz;
  readonly #pairs: number;
  readonly #idle: Float64Array;
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

  constructor(rateHz: Hertz, pairs: number) {
    this.#rateHz = rateHz;
    this.#pairs = pairs;
    this.#idle = new Float64Array(pairs);
    this.#all = new Imbalance(pairs);
    this.#arc = new Imbalance(pairs);
  }

  halfCycle(row: HalfCycleRow, burning: boolean): void {
    if (row.locked) {
      this.#halves += 1;
      this.#lockedSamples += row.end - row.middle;
    }
    if (burning) return;
    const weight = this.#idleSeen ? idleWeight : 1;
    for (let pair = 0; pair < this.#pairs; pair++)
      this.#idle[pair] = this.#idle[pair]! + weight * (row.urms[pair]! - this.#idle[pair]!);
    this.#idleSeen = true;
  }

  /** A 10/12-cycle value. */
  interval(row: IntervalRow, cycles: number): void {
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

  get idleVolts(): Volts[] | null {
    return this.#idleSeen ? [...this.#idle] : null;
  }

  phases(of: 'arc' | 'all'): PhaseEvidence | null {
    return of === 'arc' ? (this.#arc.worst() ?? this.#all.worst()) : this.#all.worst();
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

/** The moment at which the pairs' voltages lay furthest apart. */
class Imbalance {
  readonly #volts: Float64Array;
  #atS = 0.0;
  #spread = -1.0;

  constructor(pairs: number) {
    this.#volts = new Float64Array(pairs);
  }

  take(volts: Float64Array, atS: number): void {
    let low = Number.POSITIVE_INFINITY;
    let high = 0.0;
    for (let pair = 0; pair < volts.length; pair++) {
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
    return this.#spread < 0 ? null : { volts: [...this.#volts], atS: this.#atS };
  }
}
