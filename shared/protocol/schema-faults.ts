import type { TSchema } from 'typebox';
import { Value } from 'typebox/value';

/** What is wrong with a value, by its path: `supply[0].I1max must be > 0`. */
export interface Fault {
  path: string;
  says: string;
}

/** Something read, with what does not fit in it and is to be asked about; or what is wrong. */
export type Read<T> =
  | { ok: true; value: T; questions: string[] }
  | { ok: false; faults: [Fault, ...Fault[]] };

/** Faults of a value under a schema; empty when it is as it must be. One fault a path. */
export function schemaFaults(schema: TSchema, value: unknown): Fault[] {
  const faults = new Map<string, string>();
  const choices = new Map<string, unknown[]>();
  for (const error of Value.Errors(schema, value)) {
    const path = dotted(error.instancePath);
    if (error.keyword === 'additionalProperties' || error.keyword === 'anyOf') continue;
    if (error.keyword === 'boolean') faults.set(path, 'is not a known key');
    else if (error.keyword === 'const') {
      const known = choices.get(path) ?? [];
      known.push((error.params as { allowedValue: unknown }).allowedValue);
      choices.set(path, known);
    } else if (error.keyword === 'required') {
      for (const key of (error.params as { requiredProperties: string[] }).requiredProperties)
        faults.set(path === '' ? key : `${path}.${key}`, 'is missing');
    } else if (!faults.has(path)) faults.set(path, error.message);
  }
  for (const [path, known] of choices)
    faults.set(path, `must be one of ${known.map((each) => JSON.stringify(each)).join(', ')}`);
  return [...faults].map(([path, says]) => ({ path, says }));
}

/** `/supply/0/I1max` as `supply[0].I1max`. */
function dotted(pointer: string): string {
  return pointer
    .split('/')
    .slice(1)
    .map((part) => part.replaceAll('~1', '/').replaceAll('~0', '~'))
    .reduce((path, part) => {
      if (/^\d+$/.test(part)) return `${path}[${part}]`;
      return path === '' ? part : `${path}.${part}`;
    }, '');
}

/** A name that would move a terminal's cursor or hide in a list is refused. */
export function nameFaults(name: unknown): Fault[] {
  const bad = typeof name === 'string' && (/\p{Cc}|\p{Cf}/u.test(name) || name.trim() === '');
  return bad ? [{ path: 'name', says: 'must be readable text without control characters' }] : [];
}

export function asRead<T>(value: unknown, faults: Fault[], questions: () => string[]): Read<T> {
  const [first, ...rest] = faults;
  if (first) return { ok: false, faults: [first, ...rest] };
  return { ok: true, value: value as T, questions: questions() };
}
