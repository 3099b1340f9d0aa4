/**
 * One page of a list: asks for one more than it shows, so that it knows whether any follow.
 * `next` is the cursor of the last one shown, null on the last page.
 */
export function paged<One, Cursor>(
  limit: number,
  ask: (limit: number) => readonly One[],
  cursorOf: (last: One) => Cursor,
): { page: One[]; next: Cursor | null } {
  const found = ask(limit + 1);
  const page = found.slice(0, limit);
  return { page, next: found.length > limit ? cursorOf(page.at(-1)!) : null };
}
