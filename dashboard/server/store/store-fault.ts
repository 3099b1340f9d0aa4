/**
 * SQLite's result codes (sqlite.org/rescode.html) that say that the store is broken, whatever it
 * was given: any other record would fail by them, too.
 */
const broken = {
  SQLITE_INTERNAL: 2,
  SQLITE_PERM: 3,
  SQLITE_BUSY: 5,
  SQLITE_LOCKED: 6,
  SQLITE_NOMEM: 7,
  SQLITE_READONLY: 8,
  SQLITE_IOERR: 10,
  SQLITE_CORRUPT: 11,
  SQLITE_FULL: 13,
  SQLITE_CANTOPEN: 14,
  SQLITE_PROTOCOL: 15,
  SQLITE_NOLFS: 22,
  SQLITE_AUTH: 23,
  SQLITE_NOTADB: 26,
} as const;

const names = Object.keys(broken);
const numbers: ReadonlySet<number> = new Set(Object.values(broken));

/**
 * Whether an error is the store's own and no record's. Node's SQLite tells an extended code by
 * number, whose low byte is the primary one; the add-on tells it by name.
 */
export function isStoreFault(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  const { code, errcode } = error as { code?: unknown; errcode?: unknown };
  if (typeof errcode === 'number') return numbers.has(errcode & 0xff);
  if (typeof code !== 'string') return /database (connection )?is not open/.test(error.message);
  return names.some((name) => code === name || code.startsWith(`${name}_`));
}

/** One line of an error, for a log or a person: no trace. */
export const errorSays = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).split('\n', 1)[0] || 'unknown error';
