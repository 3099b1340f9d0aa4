import type { HalfCycleRow, HalfCycleSink } from '../../shared/metrology/row.ts';
import type { AdcAbout } from '../hal.ts';
import type { CborWriter } from './cbor-writer.ts';
import { rowsPerBatch } from './limits.ts';

/** A second's half-cycle rows, in columns, until they are sent. */
export class RowBatch implements HalfCycleSink {
  count = 0;
  /** Index in the stream of the meter's first sample. */
  origin = 0;
  private readonly pairs: number;
  private readonly scale: readonly number[];
  private first = 0;
  private readonly end = new Float64Array(rowsPerBatch);
  private readonly hertz = new Float32Array(rowsPerBatch);
  private readonly volts: Float32Array[] = [];
  private readonly amps: Float32Array[] = [];
  private readonly watts: Float32Array[] = [];

  constructor(about: AdcAbout) {
    this.pairs = about.pairs;
    this.scale = about.scale;
    for (let pair = 0; pair < about.pairs; pair++) {
      this.volts.push(new Float32Array(rowsPerBatch));
      this.amps.push(new Float32Array(rowsPerBatch));
      this.watts.push(new Float32Array(rowsPerBatch));
    }
  }

  /** The moment that the first row of the batch is of. */
  get firstEnd(): number {
    return this.end[0]!;
  }

  get full(): boolean {
    return this.count === rowsPerBatch;
  }

  halfCycle(row: HalfCycleRow): void {
    if (this.full) return; // only where a meter's rows came faster than its band allows
    const at = this.count++;
    if (at === 0) this.first = row.index;
    this.end[at] = this.origin + row.end;
    this.hertz[at] = row.hertz;
    for (let pair = 0; pair < this.pairs; pair++) {
      const voltsPerCount = this.scale[2 * pair]!;
      const ampsPerCount = this.scale[2 * pair + 1]!;
      this.volts[pair]![at] = row.urms[pair]! * voltsPerCount;
      this.amps[pair]![at] = row.irms[pair]! * ampsPerCount;
      this.watts[pair]![at] = row.watts[pair]! * voltsPerCount * ampsPerCount;
    }
  }

  clear(): void {
    this.count = 0;
  }

  write(writer: CborWriter, boot: number, time: number): void {
    writer.reset();
    writer.map(10);
    writer.entry('v', 1);
    writer.entry('boot', boot);
    writer.entry('first', this.first);
    writer.entry('time', time);
    writer.entry('n', this.count);
    writer.text('end');
    writer.float64s(this.end, this.count);
    writer.text('hz');
    writer.float32s(this.hertz, this.count);
    this.columns(writer, 'volts', this.volts);
    this.columns(writer, 'amps', this.amps);
    this.columns(writer, 'watts', this.watts);
  }

  private columns(writer: CborWriter, key: string, columns: readonly Float32Array[]): void {
    writer.text(key);
    writer.array(this.pairs);
    for (const column of columns) writer.float32s(column, this.count);
  }
}
