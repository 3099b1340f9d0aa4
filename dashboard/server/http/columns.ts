import type { RowColumns } from '../../../shared/protocol/http.ts';
import type { Waveform } from '../../../shared/protocol/live-rows.ts';
import type { About } from '../../../shared/protocol/messages.ts';
import type { RowBatch } from '../../../shared/watch/contract.ts';
import { rowAfter } from '../store/columns.ts';
import type { Block } from '../store/store.ts';

/** A row further than this many half cycles after the one before has a hole before it. */
const holeHalfCycles = 2.5;

/** Rows as columns of numbers, times from `start`, a row of nulls in each hole. */
export function rowColumns(
  batches: readonly RowBatch[],
  { start, from, to, rateHz, pairs }: Record<'start' | 'from' | 'to' | 'rateHz' | 'pairs', number>,
): RowColumns {
  const list = () => Array.from({ length: pairs }, (): (number | null)[] => []);
  const columns: RowColumns = { timeS: [], hertz: [], volts: list(), amps: list(), watts: list() };
  const add = (sample: number, hertz: number | null, at?: { batch: RowBatch; row: number }) => {
    columns.timeS.push((sample - start) / rateHz);
    columns.hertz.push(hertz);
    for (const key of ['volts', 'amps', 'watts'] as const)
      for (let pair = 0; pair < pairs; pair++)
        columns[key][pair]!.push(at ? finite(at.batch[key][pair]?.[at.row]) : null);
  };
  let last = Number.NaN;
  for (const batch of batches)
    for (let row = rowAfter(batch, from); row < batch.end.length; row++) {
      const sample = batch.end[row]!;
      if (sample > to) break;
      const hertz = finite(batch.hertz[row]);
      const half = rateHz / (2 * (hertz || 60));
      if (sample - last > holeHalfCycles * half) add(last + half, null);
      add(sample, hertz, { batch, row });
      last = sample;
    }
  return columns;
}

const finite = (value: number | undefined): number | null =>
  value !== undefined && Number.isFinite(value) ? Math.fround(value) : null;

/** Samples of a stretch in volts and amperes; what is not in the blocks is NaN. */
export function waveform(
  blocks: readonly Block[],
  about: About,
  { start, from, to }: { start: number; from: number; to: number },
): Waveform {
  const n = Math.max(0, to - from);
  const column = () => new Float32Array(n).fill(Number.NaN);
  const volts = Array.from({ length: about.pairs }, column);
  const amps = Array.from({ length: about.pairs }, column);
  const stride = 2 * about.pairs;
  for (const { first, n: frames, data } of blocks) {
    const begin = Math.max(0, from - first);
    const end = Math.min(frames, to - first);
    for (let channel = 0; channel < stride; channel++) {
      const into = (channel % 2 === 0 ? volts : amps)[channel >> 1]!;
      const scale = about.scale[channel]!;
      for (let frame = begin; frame < end; frame++)
        into[first + frame - from] = data[frame * stride + channel]! * scale;
    }
  }
  return { rateHz: about.rate, startS: (from - start) / about.rate, volts, amps };
}
