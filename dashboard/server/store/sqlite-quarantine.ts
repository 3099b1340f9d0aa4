import { limits } from '../limits.ts';
import type { Database, Statement } from './database.ts';
import type { Quarantined, QuarantineStore } from './quarantine.ts';

const columns = 'kind, boot, seq, at_us, reason, bytes';

/** Records put aside as they lie in SQLite. */
export class SqliteQuarantine implements QuarantineStore {
  readonly #add: Statement;
  readonly #thinSensor: Statement;
  readonly #thin: Statement;
  readonly #list: Statement;
  readonly #count: Statement;

  constructor(database: Database) {
    this.#add = database.prepare(
      `INSERT INTO quarantine (sensor, ${columns}) VALUES (?,?,?,?,?,?,?)`,
    );
    this.#thinSensor = database.prepare(
      `DELETE FROM quarantine WHERE id IN
       (SELECT id FROM quarantine WHERE sensor = ? ORDER BY id DESC LIMIT -1 OFFSET ?)`,
    );
    this.#thin = database.prepare(
      `DELETE FROM quarantine WHERE id IN
       (SELECT id FROM quarantine ORDER BY id DESC LIMIT -1 OFFSET ?)`,
    );
    this.#list = database.prepare(
      `SELECT (SELECT id FROM sensors WHERE key = quarantine.sensor) AS name, ${columns}
       FROM quarantine ORDER BY quarantine.id DESC LIMIT ?`,
    );
    this.#count = database.prepare('SELECT count(*) AS n FROM quarantine');
  }

  /** Part of a commit. */
  add(key: number, { kind, boot, seq, atUs, reason, bytes }: Quarantined): void {
    this.#add.run(key, kind, boot, seq, atUs, reason, bytes.subarray(0, limits.quarantineBytes));
    this.#thinSensor.run(key, limits.quarantinedOfSensor);
    this.#thin.run(limits.quarantined);
  }

  list(limit: number): Quarantined[] {
    return this.#list.all(limit).map((row) => ({
      sensor: String(row.name),
      kind: String(row.kind),
      boot: row.boot as number | null,
      seq: row.seq as number | null,
      atUs: Number(row.at_us),
      reason: String(row.reason),
      bytes: new Uint8Array(row.bytes as Uint8Array),
    }));
  }

  count(): number {
    return Number(this.#count.get()?.n ?? 0);
  }
}
