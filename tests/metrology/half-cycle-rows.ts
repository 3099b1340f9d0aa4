import { blankRow, type HalfCycleRow } from '../../shared/metrology/row.ts';

/** One half cycle of a made-up stream. */
export interface Half {
  volts: number;
  amps?: number;
  watts?: number;
  locked?: boolean;
  flagged?: boolean;
  /** Samples lost before it. */
  gap?: number;
}

export interface RowStream {
  rateHz: number;
  /** Frequency of a half cycle by its number. */
  hertz: (index: number) => number;
  /** First border, in samples. */
  start?: number;
}

/**
 * Rows such as a meter tells them, from a list of half cycles: windows of one cycle every half
 * cycle, whose squares are the mean of both halves, weighted by their length.
 */
export function tellRows(
  stream: RowStream,
  halves: readonly Half[],
  tell: (row: HalfCycleRow, flagged: boolean) => void,
): void {
  const row = blankRow(1);
  let border = stream.start ?? 0;
  let older: { half: Half; start: number } | null = null;
  halves.forEach((half, index) => {
    if (half.gap !== undefined) {
      border += half.gap;
      older = null;
    }
    const start = border;
    border += stream.rateHz / stream.hertz(index) / 2;
    if (older !== null) {
      row.index = index;
      row.start = older.start;
      row.middle = start;
      row.end = border;
      row.hertz = stream.hertz(index);
      row.locked = half.locked ?? true;
      const share = (start - older.start) / (border - older.start);
      const mix = (a: number, b: number) => share * a + (1 - share) * b;
      row.urms[0] = Math.sqrt(mix(older.half.volts ** 2, half.volts ** 2));
      row.irms[0] = Math.sqrt(mix((older.half.amps ?? 0) ** 2, (half.amps ?? 0) ** 2));
      row.watts[0] = mix(older.half.watts ?? 0, half.watts ?? 0);
      row.uhalf[0] = half.volts;
      row.ihalf[0] = half.amps ?? 0;
      row.whalf[0] = half.watts ?? 0;
      tell(row, half.flagged ?? false);
    }
    older = { half, start };
  });
}

/** `count` half cycles alike. */
export const steady = (count: number, half: Half): Half[] => new Array(count).fill(half);
