import { leaves } from '../../../../shared/protocol/leaves.ts';
import { plain } from '../parts/format.ts';

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
    .map((path) => ({ path, mine: text(left, path), theirs: text(right, path) }))
    .filter((each) => each.mine !== each.theirs);
}

function text(side: ReadonlyMap<string, unknown>, path: string): string {
  const value = side.get(path);
  if (typeof value === 'number') return plain(value, 6);
  return side.has(path) ? String(value) : '';
}
