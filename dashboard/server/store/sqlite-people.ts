import type { Role } from '../../../shared/protocol/http-people.ts';
import type { Database, Row } from './database.ts';
import type { NewPersonRecord, PeopleStore, PersonRecord, SessionRecord } from './people-store.ts';

/** People and sessions as they lie in SQLite. */
export class SqlitePeople implements PeopleStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  list(): PersonRecord[] {
    return this.#database.prepare('SELECT * FROM people ORDER BY id').all().map(toPerson);
  }

  one(id: number): PersonRecord | null {
    const row = this.#database.prepare('SELECT * FROM people WHERE id = ?').get(id);
    return row ? toPerson(row) : null;
  }

  add(person: NewPersonRecord): PersonRecord {
    const done = this.#database
      .prepare('INSERT INTO people (name, role, pin) VALUES (?, ?, ?)')
      .run(person.name, person.role, person.pin);
    return this.one(Number(done.lastInsertRowid))!;
  }

  save({ id, name, role, pin, disabled, wrong, lockedUntilMs }: PersonRecord): void {
    this.#database
      .prepare(
        `UPDATE people SET name = ?, role = ?, pin = ?, disabled = ?, wrong = ?,
         locked_until_ms = ? WHERE id = ?`,
      )
      .run(name, role, pin, disabled ? 1 : 0, wrong, lockedUntilMs, id);
  }

  begin({ hash, person, endsMs }: SessionRecord, nowMs: number, most: number): void {
    this.#database
      .prepare('INSERT INTO sessions (hash, person, ends_ms) VALUES (?, ?, ?)')
      .run(hash, person, endsMs);
    this.#database
      .prepare(
        `DELETE FROM sessions WHERE ends_ms <= ? OR key NOT IN
         (SELECT key FROM sessions ORDER BY key DESC LIMIT ?)`,
      )
      .run(nowMs, most);
  }

  session(hash: string, nowMs: number): SessionRecord | null {
    const row = this.#database
      .prepare('SELECT person, ends_ms FROM sessions WHERE hash = ? AND ends_ms > ?')
      .get(hash, nowMs);
    return row ? { hash, person: row.person as number | null, endsMs: Number(row.ends_ms) } : null;
  }

  end(hash: string): void {
    this.#database.prepare('DELETE FROM sessions WHERE hash = ?').run(hash);
  }

  endAllOf(person: number): void {
    this.#database.prepare('DELETE FROM sessions WHERE person = ?').run(person);
  }
}

const toPerson = (row: Row): PersonRecord => ({
  id: Number(row.id),
  name: String(row.name),
  role: row.role as Role,
  pin: String(row.pin),
  disabled: row.disabled === 1,
  wrong: Number(row.wrong),
  lockedUntilMs: Number(row.locked_until_ms),
});
