/**
 * The records that do not hold, found by halving: for one bad of n, parts of some 3·n records in
 * all are tried. Records that only fail together are then tried one after the other, and the later
 * one is blamed. What is left holds as a whole.
 *
 * `findBad([1, 2, 3, 4], (some) => !some.includes(3))` gives `[3]`.
 */
export function findBad<Of>(records: readonly Of[], holds: (some: readonly Of[]) => boolean): Of[] {
  if (records.length === 0 || holds(records)) return [];
  const bad = new Set(failing(records, holds));
  const left = records.filter((record) => !bad.has(record));
  if (left.length > 0 && !holds(left)) for (const one of clashing(left, holds)) bad.add(one);
  return records.filter((record) => bad.has(record));
}

/** Of records that do not hold together those that do not by themselves. */
function failing<Of>(records: readonly Of[], holds: (some: readonly Of[]) => boolean): Of[] {
  if (records.length === 1) return [...records];
  const middle = records.length >> 1;
  const both = [records.slice(0, middle), records.slice(middle)];
  return both.flatMap((half) => (holds(half) ? [] : failing(half, holds)));
}

/** Records that do not hold beside those before them. */
function clashing<Of>(records: readonly Of[], holds: (some: readonly Of[]) => boolean): Of[] {
  const kept: Of[] = [];
  return records.filter((record) => {
    kept.push(record);
    if (holds(kept)) return false;
    kept.pop();
    return true;
  });
}
