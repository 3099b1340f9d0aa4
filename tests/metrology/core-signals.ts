import { Meter } from '../../shared/metrology/meter.ts';
import type { HalfCycleRow } from '../../shared/metrology/row.ts';

export interface Wave {
  rateHz: number;
  seconds: number;
  hertz: number;
  /** R.m.s. of the fundamental. */
  volts: number;
  phase?: number;
  /** Order, share of the fundamental, phase at the fundamental's zero. */
  harmonics?: readonly (readonly [order: number, share: number, phase?: number])[];
  envelope?: (seconds: number) => number;
  /** R.m.s. of added noise. */
  noise?: number;
  seed?: number;
}

/** A small generator for test noise: seeded, so that a failing run is the same run again. */
export function noiseOf(seed: number): () => number {
  let state = seed | 1;
  const uniform = () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0;
    return (state >>> 8) / 2 ** 24;
  };
  return () => Math.sqrt(-2 * Math.log(uniform() + 1e-9)) * Math.cos(2 * Math.PI * uniform());
}

export function waveOf(wave: Wave): Float64Array {
  const { rateHz, hertz, volts, phase = 0, harmonics = [], envelope, noise = 0 } = wave;
  const out = new Float64Array(Math.round(rateHz * wave.seconds));
  const random = noiseOf(wave.seed ?? 1);
  for (let k = 0; k < out.length; k++) {
    const angle = (2 * Math.PI * hertz * k) / rateHz + phase;
    let value = Math.sin(angle);
    for (const [order, share, at] of harmonics)
      value += share * Math.sin(order * angle + (at ?? 0));
    out[k] = Math.SQRT2 * volts * value * (envelope?.(k / rateHz) ?? 1);
    if (noise > 0) out[k]! += noise * random();
  }
  return out;
}

export type Row = { [Key in keyof HalfCycleRow]: HalfCycleRow[Key] };

export function copyRow(row: HalfCycleRow): Row {
  const entries = Object.entries(row).map(([key, value]) =>
    value instanceof Float64Array ? [key, value.slice()] : [key, value],
  );
  return Object.fromEntries(entries) as Row;
}

export interface RowsOptions {
  rateHz: number;
  nominalHertz?: 50 | 60 | null;
  phasors?: boolean;
  /** Lengths of successive blocks, over and over; the whole in one by default. */
  blocks?: readonly number[];
}

/** All rows of channels v1, i1, v2, i2, …; a lone voltage gets a current of zeros. */
export function rowsOf(channels: readonly Float64Array[], options: RowsOptions): Row[] {
  const all =
    channels.length === 1 ? [channels[0]!, new Float64Array(channels[0]!.length)] : channels;
  const rows: Row[] = [];
  const { rateHz, nominalHertz = null, phasors = false, blocks } = options;
  const meter = new Meter(
    { rateHz, pairs: all.length / 2, nominalHertz, phasors },
    { halfCycle: (row) => rows.push(copyRow(row)) },
  );
  const total = all[0]!.length;
  let n = 0;
  for (let at = 0; at < total; n++) {
    const length = Math.min(total - at, blocks?.[n % blocks.length] ?? total);
    meter.push(
      all.map((channel) => channel.subarray(at, at + length)),
      length,
    );
    at += length;
  }
  meter.end();
  return rows;
}

export const spread = (values: readonly number[]) => Math.max(...values) - Math.min(...values);

export function rmsOf(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}
