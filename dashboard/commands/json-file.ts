import { readFileSync, statSync } from 'node:fs';
import { OperatingError } from '../../shared/command/outcome.ts';
import type { Read } from '../../shared/protocol/schema-faults.ts';

export interface FromFile<T> {
  value: T;
  /** What is possible but does not fit together: to be asked about. */
  questions: string[];
}

/** What a file is read as; `mostBytes` bounds what a wrong file can cost. */
export interface JsonKind<T> {
  what: string;
  mostBytes: number;
  parse(value: unknown): Read<T>;
}

/** @throws OperatingError absent, no JSON, or refused by path: one line. */
export function readJsonFile<T>(path: string, kind: JsonKind<T>): FromFile<T> {
  const result = kind.parse(json(path, kind));
  if (result.ok) return result;
  const [first, ...more] = result.faults;
  const rest = more.length > 0 ? ` (and ${more.length} more)` : '';
  const where = first.path === '' ? `the ${kind.what}` : first.path;
  throw new OperatingError(`${path}: ${where} ${first.says}${rest}`);
}

function json(path: string, { what, mostBytes }: Pick<JsonKind<never>, 'what' | 'mostBytes'>) {
  let text: string;
  try {
    const { size } = statSync(path);
    if (size > mostBytes)
      throw new OperatingError(`${path}: ${size} bytes; a ${what} takes at most ${mostBytes}`);
    text = readFileSync(path, 'utf8');
  } catch (error) {
    if (error instanceof OperatingError) throw error;
    throw new OperatingError(`${path}: ${faultOf(error)}; a ${what} in JSON is needed`);
  }
  try {
    return JSON.parse(text.replace(/^\uFEFF/, '')) as unknown;
  } catch (error) {
    const says = error instanceof Error ? error.message.split('\n')[0] : String(error);
    throw new OperatingError(`${path}: is no JSON: ${says}`);
  }
}

function faultOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT' || code === 'ENOTDIR') return 'there is no such file';
  if (code === 'EISDIR') return 'is a folder';
  if (code === 'EACCES' || code === 'EPERM') return 'may not be read by this user';
  return `cannot be read (${code ?? String(error)})`;
}
