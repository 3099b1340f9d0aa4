import type { CheckAbout, CheckResult } from '../../../shared/protocol/outlet-check.ts';
import type { Cell, Database, Row } from './database.ts';
import type { CheckQuery, CheckRecord, RunningCheck } from './store.ts';

const columns = `checks.id, sensors.id AS sensor, about, result, running
  FROM checks LEFT JOIN sensors ON sensors.key = checks.sensor`;

/** Outlet checks as they lie in SQLite. A shop makes some a day. */
export class SqliteChecks {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  add(sensorKey: number | null, about: CheckAbout): number {
    const done = this.#database
      .prepare('INSERT INTO checks (sensor, about) VALUES (?, ?)')
      .run(sensorKey, JSON.stringify(about));
    return Number(done.lastInsertRowid);
  }

  judge(id: number, result: CheckResult): void {
    this.#database
      .prepare('UPDATE checks SET result = ?, running = NULL WHERE id = ? AND result IS NULL')
      .run(JSON.stringify(result), id);
  }

  save(id: number, running: RunningCheck | null): void {
    this.#database
      .prepare('UPDATE checks SET running = ? WHERE id = ? AND result IS NULL')
      .run(running && JSON.stringify(running), id);
  }

  running(): CheckRecord[] {
    const found = `SELECT ${columns} WHERE running IS NOT NULL ORDER BY checks.id`;
    return this.#database.prepare(found).all().map(toCheck);
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
  sensor: row.sensor === null ? null : String(row.sensor),
  about: JSON.parse(String(row.about)) as CheckAbout,
  result: row.result === null ? null : (JSON.parse(String(row.result)) as CheckResult),
  running: row.running === null ? null : (JSON.parse(String(row.running)) as RunningCheck),
});
