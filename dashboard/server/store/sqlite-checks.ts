import type { CheckAbout, CheckResult } from '../../../shared/protocol/outlet-check.ts';
import type { Cell, Database, Row } from './database.ts';
import type { CheckQuery, CheckRecord } from './store.ts';

const columns = `checks.id, sensors.id AS sensor, about, result
  FROM checks JOIN sensors ON sensors.key = checks.sensor`;

/** Outlet checks as they lie in SQLite. A shop makes some a day. */
export class SqliteChecks {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  add(sensorKey: number, about: CheckAbout): number {
    const done = this.#database
      .prepare('INSERT INTO checks (sensor, about) VALUES (?, ?)')
      .run(sensorKey, JSON.stringify(about));
    return Number(done.lastInsertRowid);
  }

  judge(id: number, result: CheckResult): void {
    this.#database
      .prepare('UPDATE checks SET result = ? WHERE id = ? AND result IS NULL')
      .run(JSON.stringify(result), id);
  }

  one(id: number): CheckRecord | null {
    const row = this.#database.prepare(`SELECT ${columns} WHERE checks.id = ?`).get(id);
    return row ? toCheck(row) : null;
  }

  judged({ sensor, limit }: CheckQuery): CheckRecord[] {
    const of = sensor === undefined ? '' : 'AND sensors.id = ?';
    const values: Cell[] = sensor === undefined ? [limit] : [sensor, limit];
    return this.#database
      .prepare(`SELECT ${columns} WHERE result IS NOT NULL ${of} ORDER BY checks.id DESC LIMIT ?`)
      .all(...values)
      .map(toCheck);
  }
}

const toCheck = (row: Row): CheckRecord => ({
  id: Number(row.id),
  sensor: String(row.sensor),
  about: JSON.parse(String(row.about)) as CheckAbout,
  result: row.result === null ? null : (JSON.parse(String(row.result)) as CheckResult),
});
