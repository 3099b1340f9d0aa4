/** One place in which two values differ, as text; empty where one has nothing there. */
export interface Difference {
  path: string;
  mine: string;
  theirs: string;
}

/** Where two values of a form differ: `supply[0].I1max`, each side's text. */
export function differing(mine: unknown, theirs: unknown): Difference[] {
  const [left, right] = [leaves(mine), leaves(theirs)];
  return [...new Set([...left.keys(), ...right.keys()])]
    .map((path) => ({ path, mine: left.get(path) ?? '', theirs: right.get(path) ?? '' }))
    .filter((each) => each.mine !== each.theirs);
}

function leaves(value: unknown, path = '', into = new Map<string, string>()): Map<string, string> {
  if (typeof value !== 'object' || value === null) {
    if (value !== undefined) into.set(path, String(value));
    return into;
  }
  for (const [key, each] of Object.entries(value)) {
    const step = Array.isArray(value) ? `[${key}]` : path === '' ? key : `.${key}`;
    leaves(each, path + step, into);
  }
  return into;
}
