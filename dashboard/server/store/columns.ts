import type { RowBatch } from '../../../shared/watch/contract.ts';

/**
 * A batch of half-cycle rows as one blob: little-endian columns end, hertz, then volts, amps and
 * watts of each pair. As rows of a table a million values took 140 times as long to read.
 */
export function packRows(batch: RowBatch): Uint8Array {
  const n = batch.end.length;
  const columns = [batch.hertz, ...batch.volts, ...batch.amps, ...batch.watts];
  const bytes = new Uint8Array(8 * n + 4 * n * columns.length);
  new Float64Array(bytes.buffer, 0, n).set(batch.end);
  columns.forEach((column, at) => {
    new Float32Array(bytes.buffer, 8 * n + 4 * n * at, n).set(column);
  });
  return bytes;
}

export function unpackRows(blob: Uint8Array, n: number, pairs: number): RowBatch {
  // A database hands out blobs at any offset of its own memory.
  const bytes = blob.slice().buffer;
  let at = 8 * n;
  const column = () => {
    const view = new Float32Array(bytes, at, n);
    at += 4 * n;
    return view;
  };
  const columns = () => Array.from({ length: pairs }, column);
  return {
    end: new Float64Array(bytes, 0, n),
    hertz: column(),
    volts: columns(),
    amps: columns(),
    watts: columns(),
  };
}

/** Rows from one place to another, as copies: a kept view would keep the whole batch. */
export function sliceRows(batch: RowBatch, from: number, to = batch.end.length): RowBatch {
  const cut = (column: Float32Array) => column.slice(from, to);
  return {
    end: batch.end.slice(from, to),
    hertz: cut(batch.hertz),
    volts: batch.volts.map(cut),
    amps: batch.amps.map(cut),
    watts: batch.watts.map(cut),
  };
}

/** One batch after the other, of one sensor. */
export function joinRows(batches: readonly RowBatch[], pairs: number): RowBatch {
  const [only] = batches;
  if (only && batches.length === 1) return only;
  const count = batches.reduce((sum, batch) => sum + batch.end.length, 0);
  const end = new Float64Array(count);
  let rows = 0;
  for (const batch of batches) {
    end.set(batch.end, rows);
    rows += batch.end.length;
  }
  const join = (column: (batch: RowBatch) => Float32Array) => {
    const whole = new Float32Array(count);
    let at = 0;
    for (const batch of batches) {
      whole.set(column(batch), at);
      at += batch.end.length;
    }
    return whole;
  };
  const columns = (of: (batch: RowBatch) => Float32Array[]) =>
    Array.from({ length: pairs }, (_, pair) => join((batch) => of(batch)[pair]!));
  return {
    end,
    hertz: join((batch) => batch.hertz),
    volts: columns((batch) => batch.volts),
    amps: columns((batch) => batch.amps),
    watts: columns((batch) => batch.watts),
  };
}

/** First row whose window ends after a sample. */
export function rowAfter(batch: RowBatch, sample: number): number {
  let low = 0;
  let high = batch.end.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (batch.end[middle]! > sample) high = middle;
    else low = middle + 1;
  }
  return low;
}
