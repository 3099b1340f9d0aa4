import { Flickermeter } from '../metrology/flicker.ts';
import { Frequency10s } from '../metrology/frequency-10s.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import { TenMinuteUnbalance } from '../metrology/ten-minute-unbalance.ts';
import type { Flicker, QualityFigures } from '../protocol/judgement.ts';
import type { EpochMicros, Hertz, SampleIndex } from '../units.ts';

interface QualitySetup {
  rateHz: Hertz;
  pairs: number;
  nominalHertz: 50 | 60;
  startedAt: EpochMicros | null;
}

/** What facilities ask of a supply: flicker, unbalance and frequency over the clock's periods. */
export class SupplyQuality {
  readonly #flickermeters: readonly Flickermeter[];
  readonly #flicker: (Flicker | null)[];
  readonly #unbalanceMeter: TenMinuteUnbalance | null;
  readonly #frequencyMeter: Frequency10s;
  #unbalance: QualityFigures['unbalance'] = null;
  #frequency: QualityFigures['frequency10s'] = null;
  /** Flicker starts at a whole second, so that it is the same wherever the first blocks end. */
  readonly #start: SampleIndex;
  #at: SampleIndex;
  #started = false;

  constructor(setup: QualitySetup, at: SampleIndex) {
    const { rateHz, pairs, nominalHertz, startedAt } = setup;
    const lamp = nominalHertz === 50 ? '230V50Hz' : '120V60Hz';
    this.#at = at;
    this.#start = (Math.floor(at / rateHz) + 1) * rateHz;
    this.#flicker = Array.from({ length: pairs }, () => null);
    this.#flickermeters = this.#flicker.map(
      (_, pair) =>
        new Flickermeter(
          { rateHz, lamp, startedAt },
          { flicker: (row) => row.whole && this.#tookFlicker(pair, row.pst, row.plt) },
        ),
    );
    this.#unbalanceMeter =
      pairs === 3
        ? new TenMinuteUnbalance(
            setup,
            (row) => row.whole && this.#tookUnbalance(100 * row.u2, 100 * row.u0),
          )
        : null;
    this.#frequencyMeter = new Frequency10s(
      { rateHz, startedAt },
      { frequency: (row) => row.whole && !row.flagged && this.#tookFrequency(row.hertz) },
    );
  }

  push(channels: readonly Float64Array[], frames: number): void {
    const from = Math.min(frames, Math.max(0, this.#start - this.#at));
    this.#at += frames;
    if (from === frames) return;
    for (let pair = 0; pair < this.#flickermeters.length; pair++) {
      const meter = this.#flickermeters[pair]!;
      if (!this.#started) meter.skip(this.#at - frames + from);
      const volts = channels[2 * pair]!;
      meter.push(from === 0 ? volts : volts.subarray(from), frames - from);
    }
    this.#started = true;
  }

  skip(frames: number): void {
    this.#at += frames;
    if (this.#started) for (const meter of this.#flickermeters) meter.skip(frames);
  }

  end(): void {
    for (const meter of this.#flickermeters) meter.end();
  }

  /** `flagged`: a dip, swell or interruption lasts. */
  halfCycle(row: HalfCycleRow, flagged: boolean): void {
    this.#unbalanceMeter?.halfCycle(row);
    this.#frequencyMeter.halfCycle(row, flagged);
  }

  figures(): QualityFigures {
    return {
      flicker: [...this.#flicker],
      unbalance: this.#unbalance,
      frequency10s: this.#frequency,
    };
  }

  #tookFlicker(pair: number, pst: number, plt: number): void {
    const known = this.#flicker[pair] ?? null;
    const longTerm = Number.isNaN(plt) ? (known?.plt ?? null) : Math.max(plt, known?.plt ?? 0);
    this.#flicker[pair] = {
      pst: Math.max(pst, known?.pst ?? 0),
      plt: longTerm,
      periods: (known?.periods ?? 0) + 1,
    };
  }

  #tookUnbalance(u2Percent: number, u0Percent: number): void {
    const known = this.#unbalance;
    this.#unbalance = {
      u2Percent: Math.max(u2Percent, known?.u2Percent ?? 0),
      u0Percent: Math.max(u0Percent, known?.u0Percent ?? 0),
      periods: (known?.periods ?? 0) + 1,
    };
  }

  #tookFrequency(hertz: Hertz): void {
    const known = this.#frequency;
    this.#frequency = {
      lowestHertz: Math.min(hertz, known?.lowestHertz ?? hertz),
      highestHertz: Math.max(hertz, known?.highestHertz ?? hertz),
      periods: (known?.periods ?? 0) + 1,
    };
  }
}
