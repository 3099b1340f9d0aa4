import { assert } from '../assert.ts';
import type { EpochMicros, Hertz, SampleIndex, Seconds } from '../units.ts';

/**
 * Places of the clock's ticks in a stream: sample indices (fractional) at which UTC is a multiple
 * of a period. A stream without a known start ticks from its first sample on.
 */
export class Ticks {
  private readonly first: number;
  private readonly step: number;

  constructor(rateHz: Hertz, startedAt: EpochMicros | null, periodSeconds: Seconds) {
    assert(rateHz > 0 && periodSeconds > 0, 'a tick needs a rate and a period');
    const periodMicros = periodSeconds * 1e6;
    // Taken modulo first: epoch microseconds times a rate would outgrow 2^53.
    const into =
      startedAt === null ? 0 : ((startedAt % periodMicros) + periodMicros) % periodMicros;
    this.first = (-into * rateHz) / 1e6;
    this.step = periodSeconds * rateHz;
  }

  /** The first tick strictly after a place in the stream. */
  after(index: SampleIndex): SampleIndex {
    let n = Math.floor((index - this.first) / this.step) + 1;
    if (this.first + n * this.step <= index) n++;
    return this.first + n * this.step;
  }
}
