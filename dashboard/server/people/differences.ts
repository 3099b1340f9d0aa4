import { leaves } from '../../../shared/protocol/leaves.ts';
import type { ChangedPlaces } from '../../../shared/words/en/changes.ts';

/** Places told of one change; the whole is in the entry's JSON. */
const mostTold = 4;

/** What differs between two values, by path; no places where nothing does. */
export function differences(before: unknown, after: unknown): ChangedPlaces {
  const [was, is] = [texts(before), texts(after)];
  const paths = [...new Set([...was.keys(), ...is.keys()])];
  const changed = paths.filter((path) => was.get(path) !== is.get(path));
  return {
    places: changed
      .slice(0, mostTold)
      .map((path) => ({ path, was: was.get(path) ?? null, is: is.get(path) ?? null })),
    more: Math.max(0, changed.length - mostTold),
  };
}

/** Null is nothing, as what is left out is. */
const texts = (value: unknown): Map<string, string> =>
  new Map(
    [...leaves(value)].flatMap(([path, leaf]) =>
      leaf === null ? [] : [[path, JSON.stringify(leaf)] as const],
    ),
  );
