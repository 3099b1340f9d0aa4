import type { Amperes, Seconds, Volts, Watts } from '../units.ts';
import { asOneCycle } from './as-one-cycle.ts';
import type { HalfCycleHistory } from './half-cycle-history.ts';

/** Half cycles of 200 ms at 69 Hz, rounded up: the longest window there is. */
const longestWindow = 28;

/** One pair's running totals over an arc's whole half cycles; all that the figures need. */
export class ArcTotals {
  samples = 0.0;
  halves = 0;
  minHalfCycle: Volts = 0;
  minStrike: Volts = 0;
  /** Of the one-cycle window whose voltage `minStrike` is. */
  strikeAmps: Amperes = 0;
  strikeWatts: Watts = 0;
  minVoltsWindow: Volts = 0;
  maxVoltsWindow: Volts = 0;
  maxAmpsWindow: Amperes = 0;
  #uu = 0.0;
  #ii = 0.0;
  #ui = 0.0;
  #window = 0;
  readonly #lengths = new Float64Array(longestWindow);
  readonly #volts = new Float64Array(longestWindow);
  readonly #amps = new Float64Array(longestWindow);

  /** @param window half cycles in 200 ms: 10 cycles at 50 Hz, 12 at 60 Hz. */
  reset(window: number): void {
    this.samples = this.halves = 0;
    this.#uu = this.#ii = this.#ui = 0;
    this.#window = Math.min(longestWindow, window);
    this.minHalfCycle = this.minStrike = this.minVoltsWindow = Number.POSITIVE_INFINITY;
    this.maxVoltsWindow = this.maxAmpsWindow = 0;
    this.strikeAmps = this.strikeWatts = 0;
  }

  copy(other: ArcTotals): void {
    this.samples = other.samples;
    this.halves = other.halves;
    this.minHalfCycle = other.minHalfCycle;
    this.minStrike = other.minStrike;
    this.strikeAmps = other.strikeAmps;
    this.strikeWatts = other.strikeWatts;
    this.minVoltsWindow = other.minVoltsWindow;
    this.maxVoltsWindow = other.maxVoltsWindow;
    this.maxAmpsWindow = other.maxAmpsWindow;
    this.#uu = other.#uu;
    this.#ii = other.#ii;
    this.#ui = other.#ui;
    this.#window = other.#window;
    this.#lengths.set(other.#lengths);
    this.#volts.set(other.#volts);
    this.#amps.set(other.#amps);
  }

  /** Adds entry `n` of the history; `strikes` while it lies in the arc's first 200 ms. */
  add(history: HalfCycleHistory, n: number, pair: number, strikes: boolean): void {
    const slot = history.slot(n);
    const at = slot * history.pairs + pair;
    const length = history.end[slot]! - history.start[slot]!;
    const uu = history.uu[at]! * length;
    const ii = history.ii[at]! * length;
    this.samples += length;
    this.#uu += uu;
    this.#ii += ii;
    this.#ui += history.ui[at]! * length;
    const rms = Math.sqrt(history.urmsSquare[at]!);
    if (Number.isNaN(rms)) return;
    // Only a low reading can make a new minimum: the rest needs no second look.
    if (rms < this.minHalfCycle || (strikes && rms < this.minStrike))
      this.#takeLow(history, n, pair, rms, strikes);
    const place = this.halves % this.#window;
    this.#lengths[place] = length;
    this.#volts[place] = uu;
    this.#amps[place] = ii;
    this.halves += 1;
    if (this.halves >= this.#window) this.#takeWindow();
  }

  #takeLow(history: HalfCycleHistory, n: number, pair: number, rms: Volts, strikes: boolean): void {
    const volts = asOneCycle(history, n, rms);
    this.minHalfCycle = Math.min(this.minHalfCycle, volts);
    if (!strikes || volts >= this.minStrike) return;
    this.minStrike = volts;
    // An entry that opens a stretch has no Urms(1/2), so the one before this is its neighbour.
    const slots = [history.slot(n - 1), history.slot(n)];
    let [samples, ii, ui] = [0, 0, 0];
    for (const slot of slots) {
      const at = slot * history.pairs + pair;
      const length = history.end[slot]! - history.start[slot]!;
      samples += length;
      ii += length * history.ii[at]!;
      ui += length * history.ui[at]!;
    }
    this.strikeAmps = Math.sqrt(ii / samples);
    this.strikeWatts = ui / samples;
  }

  get meanVolts(): Volts {
    return this.samples > 0 ? Math.sqrt(this.#uu / this.samples) : 0;
  }

  get meanAmps(): Amperes {
    return this.samples > 0 ? Math.sqrt(this.#ii / this.samples) : 0;
  }

  get meanWatts(): Watts {
    return this.samples > 0 ? this.#ui / this.samples : 0;
  }

  /** Summed anew each time: adding the new and taking off the old would drift. */
  #takeWindow(): void {
    let length = 0.0;
    let uu = 0.0;
    let ii = 0.0;
    for (let k = 0; k < this.#window; k++) {
      length += this.#lengths[k]!;
      uu += this.#volts[k]!;
      ii += this.#amps[k]!;
    }
    const volts = Math.sqrt(uu / length);
    this.minVoltsWindow = Math.min(this.minVoltsWindow, volts);
    this.maxVoltsWindow = Math.max(this.maxVoltsWindow, volts);
    this.maxAmpsWindow = Math.max(this.maxAmpsWindow, Math.sqrt(ii / length));
  }
}

export const arcWindowSeconds: Seconds = 0.2;
