import type { ArcPage, ArcSummary } from '../../../../shared/protocol/http.ts';

/**
 * The newest page put before what was fetched earlier. Where the two do not meet, arcs between them
 * are not known (the page slept, or was cut off): then it begins anew, so that none is left out.
 */
export function withNewest(page: ArcPage, now: ArcPage | null): ArcPage {
  const known = new Set(now?.arcs.map(({ id }) => id));
  const meets = page.arcs.some(({ id }) => known.has(id));
  return now && meets ? { arcs: merged(page.arcs, now.arcs), next: now.next } : page;
}

/** An older page put behind what is there. */
export const withOlder = (page: ArcPage, now: ArcPage | null): ArcPage => ({
  arcs: merged(now?.arcs ?? [], page.arcs),
  next: page.next,
});

/** Newest first, each once; the first list's word on an arc counts. */
function merged(first: readonly ArcSummary[], second: readonly ArcSummary[]): ArcSummary[] {
  const byId = new Map([...second, ...first].map((arc) => [arc.id, arc]));
  return [...byId.values()].sort((a, b) => b.startedAt.localeCompare(a.startedAt) || b.id - a.id);
}
