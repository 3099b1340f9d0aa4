import { asRead, type Fault, type Read } from './schema-faults.ts';

/** Most entries of a list: past any shop's, and what the planner takes. */
const mostEntries = 500;

/** One entry: its faults by path within it, and what does not fit. */
export type ReadEntry = (entry: Record<string, unknown>) => {
  faults: Fault[];
  questions: string[];
};

/** A list out of parsed JSON, each entry by its own reader; refused by path, two of a name too. */
export function readList<T>(value: unknown, entry: ReadEntry, least = 1): Read<T[]> {
  if (!Array.isArray(value))
    return asRead<T[]>(value, [{ path: '', says: 'must be a list' }], none);
  if (value.length < least || value.length > mostEntries)
    return asRead<T[]>(
      value,
      [{ path: '', says: `has ${value.length} entries; ${least} to ${mostEntries} are taken` }],
      none,
    );
  const questions: string[] = [];
  const faults: Fault[] = [];
  for (const [index, each] of value.entries()) {
    const path = `[${index}]`;
    if (typeof each !== 'object' || each === null || Array.isArray(each)) {
      faults.push({ path, says: 'must be an object' });
      continue;
    }
    const read = entry(each as Record<string, unknown>);
    faults.push(...read.faults.map((fault) => within(path, fault)));
    questions.push(...read.questions);
  }
  if (faults.length === 0) faults.push(...sameNames(value as { name: string }[]));
  return asRead<T[]>(value, faults, () => questions);
}

const none = () => [];

/** Everything is told by name, so two of one name could not be told apart. */
function sameNames(entries: readonly { name: string }[]): Fault[] {
  const first = new Map<string, number>();
  return entries.flatMap(({ name }, index) => {
    const at = first.get(name);
    if (at === undefined) first.set(name, index);
    return at === undefined
      ? []
      : [{ path: `[${index}].name`, says: `is "${name}", as [${at}] is: give each its own` }];
  });
}

/** A fault of a part, by its path in the whole. */
export function within(path: string, fault: Fault): Fault {
  const joint = fault.path === '' || fault.path.startsWith('[') ? '' : '.';
  return { path: `${path}${joint}${fault.path}`, says: fault.says };
}
