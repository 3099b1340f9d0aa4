/** What stands at the ends of a value's branches, by path: `cords[0].feet`. */
export function leaves(
  value: unknown,
  path = '',
  into = new Map<string, unknown>(),
): Map<string, unknown> {
  if (typeof value !== 'object' || value === null) {
    if (value !== undefined) into.set(path, value);
    return into;
  }
  for (const [key, each] of Object.entries(value)) {
    const step = Array.isArray(value) ? `[${key}]` : path === '' ? key : `.${key}`;
    leaves(each, path + step, into);
  }
  return into;
}
