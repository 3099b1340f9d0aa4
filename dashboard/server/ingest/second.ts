import type { Rows } from '../../../shared/protocol/messages.ts';
import type { Second } from '../store/store.ts';

/** What a second's rows come to in the history: the lowest and the highest of each column. */
export function second(sensor: string, rows: Rows): Second {
  const lowest = (column: Float32Array) => column.reduce((low, value) => Math.min(low, value));
  const highest = (column: Float32Array) => column.reduce((high, value) => Math.max(high, value));
  return {
    sensor,
    timeMs: rows.time / 1e3,
    hertz: rows.hz[rows.n - 1]!,
    voltsMin: rows.volts.map(lowest),
    voltsMax: rows.volts.map(highest),
    ampsMin: rows.amps.map(lowest),
    ampsMax: rows.amps.map(highest),
  };
}
