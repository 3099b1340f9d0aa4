import type { Database, Row } from './database.ts';
import type { Stamp, StockRecord, StockStore, VersionRecord } from './stock-store.ts';

/** Plates, circuits or feeders in SQLite: the newest version in one table, all in another. */
export class SqliteStock<Value extends object> implements StockStore<Value> {
  readonly #database: Database;
  readonly #kind: 'plate' | 'circuit' | 'feeder';

  constructor(database: Database, kind: 'plate' | 'circuit' | 'feeder') {
    this.#database = database;
    this.#kind = kind;
  }

  list(): StockRecord<Value>[] {
    const rows = this.#database.prepare(`SELECT * FROM ${this.#kind}s ORDER BY id`).all();
    return rows.map((row) => this.#record(row));
  }

  one(id: number): StockRecord<Value> | null {
    const row = this.#database.prepare(`SELECT * FROM ${this.#kind}s WHERE id = ?`).get(id);
    return row ? this.#record(row) : null;
  }

  add(value: Value, { atUs, by }: Stamp): StockRecord<Value> {
    const done = this.#database
      .prepare(`INSERT INTO ${this.#kind}s (${this.#kind}, changed_us, changed_by) VALUES (?,?,?)`)
      .run(JSON.stringify(value), atUs, by);
    return this.#keep(Number(done.lastInsertRowid));
  }

  set(id: number, value: Value, { atUs, by }: Stamp): StockRecord<Value> | null {
    const text = JSON.stringify(value);
    const done = this.#database
      .prepare(
        `UPDATE ${this.#kind}s SET ${this.#kind} = ?, version = version + 1, changed_us = ?,
         changed_by = ? WHERE id = ? AND ${this.#kind} <> ?`,
      )
      .run(text, atUs, by, id, text);
    return Number(done.changes) === 1 ? this.#keep(id) : this.one(id);
  }

  retire(id: number, retired: boolean): StockRecord<Value> | null {
    this.#database
      .prepare(`UPDATE ${this.#kind}s SET retired = ? WHERE id = ?`)
      .run(retired ? 1 : 0, id);
    return this.one(id);
  }

  versions(id: number, before: number, limit: number): VersionRecord<Value>[] {
    return this.#database
      .prepare(
        `SELECT * FROM ${this.#kind}_versions WHERE id = ? AND version < ?
         ORDER BY version DESC LIMIT ?`,
      )
      .all(id, before, limit)
      .map((row) => this.#version(row));
  }

  #keep(id: number): StockRecord<Value> {
    this.#database
      .prepare(
        `INSERT INTO ${this.#kind}_versions (id, version, changed_us, changed_by, ${this.#kind})
         SELECT id, version, changed_us, changed_by, ${this.#kind} FROM ${this.#kind}s
         WHERE id = ?`,
      )
      .run(id);
    return this.one(id)!;
  }

  #version(row: Row): VersionRecord<Value> {
    return {
      version: Number(row.version),
      atUs: Number(row.changed_us),
      by: row.changed_by as string | null,
      value: JSON.parse(String(row[this.#kind])) as Value,
    };
  }

  #record(row: Row): StockRecord<Value> {
    return { ...this.#version(row), id: Number(row.id), retired: row.retired === 1 };
  }
}
