import { leaves } from '../../../shared/protocol/leaves.ts';

/** Places told of one change; the whole is in the entry's JSON. */
const mostTold = 4;

/**
 * What differs between two values, by path: `volts 120 → 240, cords[0].feet 25 → –`. Empty where
 * nothing does.
 */
export function differences(before: unknown, after: unknown): string {
  const [was, is] = [texts(before), texts(after)];
  const paths = [...new Set([...was.keys(), ...is.keys()])];
  const changed = paths.filter((path) => was.get(path) !== is.get(path));
  const told = changed
    .slice(0, mostTold)
    .map((path) => `${path} ${was.get(path) ?? '–'} → ${is.get(path) ?? '–'}`.trim());
  const more = changed.length - told.length;
  return told.join(', ') + (more > 0 ? `, and ${more} more` : '');
}

/** Null is nothing, as what is left out is. */
const texts = (value: unknown): Map<string, string> =>
  new Map(
    [...leaves(value)].flatMap(([path, leaf]) =>
      leaf === null ? [] : [[path, JSON.stringify(leaf)] as const],
    ),
  );
