import type { KeptFeeder } from '../../../shared/protocol/feeder.ts';
import type { StoredFeeder } from '../../../shared/protocol/http-plan.ts';
import type { Database } from './database.ts';
import type { FeederStore } from './feeder-store.ts';

/** Feeders as they lie in SQLite. */
export class SqliteFeeders implements FeederStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  list(): StoredFeeder[] {
    const rows = this.#database.prepare('SELECT id, feeder FROM feeders ORDER BY id').all();
    return rows.map(({ id, feeder }) => ({
      id: Number(id),
      feeder: JSON.parse(String(feeder)) as KeptFeeder,
    }));
  }

  add(feeder: KeptFeeder): StoredFeeder {
    const done = this.#database
      .prepare('INSERT INTO feeders (feeder) VALUES (?)')
      .run(JSON.stringify(feeder));
    return { id: Number(done.lastInsertRowid), feeder };
  }

  set(id: number, feeder: KeptFeeder): boolean {
    const done = this.#database
      .prepare('UPDATE feeders SET feeder = ? WHERE id = ?')
      .run(JSON.stringify(feeder), id);
    return Number(done.changes) === 1;
  }

  remove(id: number): boolean {
    return Number(this.#database.prepare('DELETE FROM feeders WHERE id = ?').run(id).changes) === 1;
  }
}
