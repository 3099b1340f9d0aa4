/** Places told of one change; the whole is in the entry's JSON. */
const mostTold = 4;

/**
 * What differs between two values, by path: `volts 120 → 240, cords[0].feet 25 → –`. Empty where
 * nothing does.
 */
export function differences(before: unknown, after: unknown): string {
  const [was, is] = [leaves(before), leaves(after)];
  const paths = [...new Set([...was.keys(), ...is.keys()])];
  const changed = paths.filter((path) => was.get(path) !== is.get(path));
  const told = changed
    .slice(0, mostTold)
    .map((path) => `${path} ${was.get(path) ?? '–'} → ${is.get(path) ?? '–'}`.trim());
  const more = changed.length - told.length;
  return told.join(', ') + (more > 0 ? `, and ${more} more` : '');
}

function leaves(value: unknown, path = '', into = new Map<string, string>()): Map<string, string> {
  if (typeof value !== 'object' || value === null) {
    // Null is nothing, as what is left out is.
    if (value !== undefined && value !== null) into.set(path, JSON.stringify(value));
    return into;
  }
  for (const [key, each] of Object.entries(value)) {
    const joint = path === '' ? key : `${path}.${key}`;
    leaves(each, Array.isArray(value) ? `${path}[${key}]` : joint, into);
  }
  return into;
}
