import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { OperatingError } from '../../../shared/command/outcome.ts';

export type Cell = number | string | Uint8Array | null;
export type Row = Record<string, Cell>;

export interface Statement {
  run(...values: Cell[]): { changes: number | bigint; lastInsertRowid: number | bigint };
  get(...values: Cell[]): Row | undefined;
  all(...values: Cell[]): Row[];
}

/** The few calls that Node's own SQLite and the add-on for Node 20 have in common. */
export interface Database {
  exec(sql: string): void;
  prepare(sql: string): Statement;
  close(): void;
}

type Opener = new (path: string) => Database;

/** @throws OperatingError when the file cannot be opened or no SQLite is there. */
export function openDatabase(path: string): Database {
  const Opener = ownSqlite() ?? addOnSqlite();
  try {
    return new Opener(path);
  } catch (error) {
    throw new OperatingError(`${path}: ${error instanceof Error ? error.message : error}`);
  }
}

/** Node 22.13 and newer bring SQLite along. */
function ownSqlite(): Opener | null {
  const own = process.getBuiltinModule('node:sqlite') as { DatabaseSync: Opener } | undefined;
  return own?.DatabaseSync ?? null;
}

/**
 * Node 20 has none: an add-on is compiled at install, outside the lock file, so that newer Nodes
 * compile nothing.
 */
function addOnSqlite(): Opener {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (folder !== dirname(folder)) {
    const place = join(folder, 'node_modules', '.sqlite', 'node_modules');
    if (existsSync(join(place, 'better-sqlite3')))
      return createRequire(join(place, 'any.js'))('better-sqlite3') as Opener;
    folder = dirname(folder);
  }
  throw new OperatingError(
    `Node ${process.version} has no SQLite, nor is its add-on there: npm ci again, or Node 22.13`,
  );
}
