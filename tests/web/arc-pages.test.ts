import { expect, test } from 'vitest';
import { withNewest, withOlder } from '../../dashboard/web/src/circuit/arc-pages.ts';
import type { ArcPage, ArcSummary } from '../../shared/protocol/http.ts';

/** Arcs as a list needs them: one a minute, by number. */
const page = (ids: number[], next: string | null): ArcPage => ({
  arcs: ids.map((id) => {
    const startedAt = new Date(id * 60_000).toISOString();
    return { id, startedAt, says: `arc ${id}` } as ArcSummary;
  }),
  next,
});
const ids = ({ arcs }: ArcPage) => arcs.map(({ id }) => id);

test('a new arc comes before those that are known, each once, and older ones behind', () => {
  const first = withNewest(page([3, 2], 'before 2'), null);
  const then = withNewest(page([4, 3], 'before 3'), first);
  expect(ids(then)).toEqual([4, 3, 2]);
  expect(then.next).toBe('before 2');
  const older = withOlder(page([1], null), then);
  expect(ids(older)).toEqual([4, 3, 2, 1]);
  expect(older.next).toBeNull();
});

test('after a long sleep the list begins anew: none between is left out', () => {
  const slept = withNewest(page([9, 8], 'before 8'), page([3, 2], 'before 2'));
  expect(ids(slept)).toEqual([9, 8]);
  expect(slept.next).toBe('before 8');
});

test('what is newly known of an arc counts', () => {
  const { arcs } = page([3], null);
  const acknowledged = { by: 'Ida', at: '2026-11-25T08:00:00Z' };
  const news: ArcPage = { arcs: [{ ...arcs[0]!, acknowledged }], next: null };
  expect(withNewest(news, page([3, 2], null)).arcs[0]!.acknowledged).toEqual(acknowledged);
});
