import type { ArcPage } from '../../../shared/protocol/http.ts';
import { summaries } from '../live/floor.ts';
import type { ArcQuery, Store } from '../store/store.ts';
import { paged } from './paged.ts';

/** `<startedUs>.<id>` of the last arc of a page. */
export const cursorPattern = '^\\d{1,16}\\.\\d{1,16}$';

/** A page of arcs, newest first, with the cursor of the following one. */
export function arcPage(
  store: Store,
  { before, limit, ...query }: Omit<ArcQuery, 'before'> & { before?: string | undefined },
): ArcPage {
  const [startedUs, id] = before?.split('.').map(Number) ?? [];
  const cursor = before === undefined ? undefined : { startedUs: startedUs!, id: id! };
  const { page, next } = paged(
    limit,
    (most) => store.arcs({ ...query, before: cursor, limit: most }),
    (last) => `${last.startedUs}.${last.id}`,
  );
  return { arcs: summaries(page), next };
}
