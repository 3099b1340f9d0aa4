import { useEffect, useState } from 'preact/hooks';
import type { ArcDetail, RowColumns } from '../../../../shared/protocol/http.ts';
import type { Waveform } from '../../../../shared/protocol/live-rows.ts';
import { arcDetail, arcRows, arcWaveform } from '../parts/api.ts';

export interface Loaded {
  detail: ArcDetail;
  rows: RowColumns;
  wave: Waveform | null;
}

/** Shown before and after an arc, as the server has it for the rows. */
const marginS = 0.5;
/** Of a longer arc the waveform comes for its first part: a phone holds a million samples. */
export const longestWaveS = 30;

/** An arc with all that its page draws; null while it is on its way, or where none is asked. */
export function useArc(id: number | null): Loaded | Error | null {
  const [loaded, setLoaded] = useState<Loaded | Error | null>(null);
  useEffect(() => {
    let mine = true;
    if (id !== null)
      load(id).then(
        (result) => mine && setLoaded(result),
        (error: Error) => mine && setLoaded(error),
      );
    return () => {
      mine = false;
    };
  }, [id]);
  return loaded;
}

async function load(id: number): Promise<Loaded> {
  const detail = await arcDetail(id);
  const until = Math.min(detail.arc.durationS + marginS, longestWaveS);
  const [rows, wave] = await Promise.all([
    arcRows(id),
    detail.waveform ? arcWaveform(id, -marginS, until) : Promise.resolve(null),
  ]);
  return { detail, rows, wave };
}
