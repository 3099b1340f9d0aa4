import type { HalfCycleRow } from '../metrology/row.ts';
import type { RowBatch } from './contract.ts';

/** Rows a batch, two seconds at 60 Hz: what a store takes as one piece. */
const batchRows = 240;

/** Gathers rows into columns that are the receiver's to keep. */
export class RowBatcher {
  readonly #pairs: number;
  readonly #tell: (batch: RowBatch) => void;
  /** Null until the first row of the next batch: at rest there is none. */
  #batch: RowBatch | null = null;
  #rows = 0;

  constructor(pairs: number, tell: (batch: RowBatch) => void) {
    this.#pairs = pairs;
    this.#tell = tell;
  }

  halfCycle(row: HalfCycleRow): void {
    const at = this.#rows++;
    const batch = (this.#batch ??= blank(this.#pairs));
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
    if (this.#batch === null) return;
    const { end, hertz, volts, amps, watts } = this.#batch;
    const rows = this.#rows;
    this.#batch = null;
    this.#rows = 0;
    const cut = (column: Float32Array) => column.subarray(0, rows);
    this.#tell({
      end: end.subarray(0, rows),
      hertz: cut(hertz),
      volts: volts.map(cut),
      amps: amps.map(cut),
      watts: watts.map(cut),
    });
  }
}

/** All columns in one piece of memory: pieces are what costs. */
function blank(pairs: number): RowBatch {
  const memory = new ArrayBuffer(batchRows * (8 + 4 * (1 + 3 * pairs)));
  let at = 8 * batchRows;
  const column = () => {
    const view = new Float32Array(memory, at, batchRows);
    at += view.byteLength;
    return view;
  };
  const columns = () => Array.from({ length: pairs }, column);
  return {
    end: new Float64Array(memory, 0, batchRows),
    hertz: column(),
    volts: columns(),
    amps: columns(),
    watts: columns(),
  };
}
