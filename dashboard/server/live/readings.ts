import type { Rows } from '../../../shared/protocol/messages.ts';
import type { Reading } from '../../../shared/rules/outlet-check-evidence.ts';

/** Parts of a second's batch: a motor that starts within it must show as a step. */
const parts = 5;

/** A batch of half-cycle rows as a few r.m.s. readings, for what watches an outlet at rest. */
export function readingsOf(rows: Rows, rateHz: number): Reading[] {
  const { n, end } = rows;
  const rowS = n > 1 ? (end[n - 1]! - end[0]!) / (n - 1) / rateHz : 1 / 120;
  const size = Math.max(1, Math.ceil(n / parts));
  const readings: Reading[] = [];
  for (let from = 0; from < n; from += size) {
    const to = Math.min(n, from + size);
    const rms = (column: Float32Array) => {
      let sum = 0;
      for (let row = from; row < to; row++) sum += column[row]! * column[row]!;
      return Math.sqrt(sum / (to - from));
    };
    const reading = {
      spanS: (to - from) * rowS,
      volts: rows.volts.map(rms),
      amps: rows.amps.map(rms),
    };
    // What was lost on the way is no reading.
    if ([...reading.volts, ...reading.amps].every(Number.isFinite)) readings.push(reading);
  }
  return readings;
}
