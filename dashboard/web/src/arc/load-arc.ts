import { useEffect, useState } from 'preact/hooks';
import type { ArcDetail, RowColumns } from '../../../../shared/protocol/http.ts';
import { arcDetail, arcRows } from '../parts/api.ts';
import type { Extent } from '../parts/extent.ts';

export interface Loaded {
  detail: ArcDetail;
  rows: RowColumns;
}

/** Shown before and after an arc, as the server has it for the rows. */
const marginS = 0.5;

export const wholeOfArc = ({ arc }: ArcDetail): Extent => [-marginS, arc.durationS + marginS];

/** An arc with all that its page draws; null while it is on its way, or where none is asked. */
export function useArc(id: number | null): Loaded | Error | null {
  const [loaded, setLoaded] = useState<Loaded | Error | null>(null);
  useEffect(() => {
    let mine = true;
    if (id !== null)
      Promise.all([arcDetail(id), arcRows(id)]).then(
        ([detail, rows]) => mine && setLoaded({ detail, rows }),
        (error: Error) => mine && setLoaded(error),
      );
    return () => {
      mine = false;
    };
  }, [id]);
  return loaded;
}
