import { readFileSync, statSync } from 'node:fs';
import { OperatingError } from '../../shared/command/outcome.ts';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { readCircuit } from '../../shared/protocol/read-circuit.ts';
import { readPlate } from '../../shared/protocol/read-plate.ts';
import type { Read } from '../../shared/protocol/schema-faults.ts';

/** A plate or circuit takes a few hundred bytes; this bounds what a wrong file can cost. */
const mostBytes = 64 * 1024;

export interface FromFile<T> {
  value: T;
  /** What is possible but does not fit together: to be asked about. */
  questions: string[];
}

/** @throws OperatingError absent, no JSON, or refused by path. */
export const readPlateFile = (path: string): FromFile<Plate> => read(path, 'plate', readPlate);

/** @throws OperatingError absent, no JSON, or refused by path. */
export const readCircuitFile = (path: string): FromFile<Circuit> =>
  read(path, 'circuit', readCircuit);

function read<T>(path: string, what: string, parse: (value: unknown) => Read<T>): FromFile<T> {
  const result = parse(json(path, what));
  if (result.ok) return result;
  const [first, ...more] = result.faults;
  const rest = more.length > 0 ? ` (and ${more.length} more)` : '';
  const where = first.path === '' ? `the ${what}` : first.path;
  throw new OperatingError(`${path}: ${where} ${first.says}${rest}`);
}

function json(path: string, what: string): unknown {
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
    return JSON.parse(text.replace(/^\uFEFF/, ''));
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
