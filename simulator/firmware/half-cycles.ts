import { Meter } from '../../shared/metrology/meter.ts';
import type { AdcAbout } from '../hal.ts';
import { readFrames } from './limits.ts';
import { RowBatch } from './row-batch.ts';

/** Counts in, half-cycle rows out; metered in counts, scaled a row at a time. */
export class HalfCycles {
  readonly batch: RowBatch;
  private readonly meter: Meter;
  private readonly columns: Float64Array[] = [];
  private readonly channels: number;
  /** Index in the stream that is the meter's first sample; -1 before it. */
  private origin = -1;
  private next = 0.0;

  constructor(about: AdcAbout) {
    this.channels = 2 * about.pairs;
    this.batch = new RowBatch(about);
    for (let channel = 0; channel < this.channels; channel++)
      this.columns.push(new Float64Array(readFrames));
    const { rateHz, pairs } = about;
    this.meter = new Meter({ rateHz, pairs, nominalHertz: null }, this.batch);
  }

  push(counts: Int32Array, frames: number, first: number): void {
    if (this.origin < 0) {
      this.origin = first;
      this.batch.origin = first;
    } else if (first > this.next) this.meter.skip(first - this.next);
    this.next = first + frames;
    for (let channel = 0; channel < this.channels; channel++) {
      const column = this.columns[channel]!;
      let at = channel;
      for (let n = 0; n < frames; n++, at += this.channels) column[n] = counts[at]!;
    }
    this.meter.push(this.columns, frames);
  }
}
