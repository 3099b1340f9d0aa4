import type { HalfCycleRow } from '../metrology/row.ts';
import type { RowBatch } from './contract.ts';

/** Rows a batch: 200 ms at 60 Hz, as often as a page can show something new. */
const batchRows = 24;

/** Gathers rows into columns that are the receiver's to keep. */
export class RowBatcher {
  readonly #pairs: number;
  readonly #tell: (batch: RowBatch) => void;
  #batch: RowBatch;
  #rows = 0;

  constructor(pairs: number, tell: (batch: RowBatch) => void) {
    this.#pairs = pairs;
    this.#tell = tell;
    this.#batch = blank(pairs);
  }

  halfCycle(row: HalfCycleRow): void {
    const at = this.#rows++;
    const batch = this.#batch;
    batch.end[at] = row.end;
    batch.hertz[at] = row.hertz;
    for (let pair = 0; pair < this.#pairs; pair++) {
      batch.volts[pair]![at] = row.urms[pair]!;
      batch.amps[pair]![at] = row.irms[pair]!;
      batch.watts[pair]![at] = row.watts[pair]!;
    }
    if (this.#rows === batchRows) this.flush();
  }

  /** Hands over what there is. */
  flush(): void {
    if (this.#rows === 0) return;
    const { end, hertz, volts, amps, watts } = this.#batch;
    const rows = this.#rows;
    const cut = (column: Float32Array) => column.subarray(0, rows);
    this.#tell({
      end: end.subarray(0, rows),
      hertz: cut(hertz),
      volts: volts.map(cut),
      amps: amps.map(cut),
      watts: watts.map(cut),
    });
    this.#batch = blank(this.#pairs);
    this.#rows = 0;
  }
}

function blank(pairs: number): RowBatch {
  const columns = () => Array.from({ length: pairs }, () => new Float32Array(batchRows));
  return {
    end: new Float64Array(batchRows),
    hertz: new Float32Array(batchRows),
    volts: columns(),
    amps: columns(),
    watts: columns(),
  };
}
