import type { AuditArea } from '../../../shared/protocol/http-people.ts';
import type { Saying } from '../../../shared/protocol/judgement.ts';
import type { Cell, Database, Row } from './database.ts';
import type { AuditQuery, AuditRecord, AuditStore, NewAuditRecord } from './people-store.ts';

/** The audit list as it lies in SQLite, where triggers refuse to change or to delete. */
export class SqliteAudit implements AuditStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  add(entry: NewAuditRecord): AuditRecord {
    const { atUs, person, device, area, subject, says, saying, before, after } = entry;
    const done = this.#database
      .prepare(
        `INSERT INTO audit (at_us, person, name, device, area, subject, says, before, after,
           saying)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      )
      .run(
        ...([atUs, person?.id ?? null, person?.name ?? null, device, area, subject, says] as const),
        ...[JSON.stringify(before ?? null), JSON.stringify(after ?? null)],
        saying === undefined ? null : JSON.stringify(saying),
      );
    return { ...entry, id: Number(done.lastInsertRowid) };
  }

  list({ area, person, fromUs, toUs, before, limit }: AuditQuery): AuditRecord[] {
    const wanted = [
      ['area = ?', area],
      ['person = ?', person],
      ['at_us >= ?', fromUs],
      ['at_us < ?', toUs],
      ['id < ?', before],
    ] as const;
    const asked = wanted.filter(([, value]) => value !== undefined);
    const filter = asked.length > 0 ? `WHERE ${asked.map(([says]) => says).join(' AND ')}` : '';
    return this.#database
      .prepare(`SELECT * FROM audit ${filter} ORDER BY id DESC LIMIT ?`)
      .all(...asked.map(([, value]) => value as Cell), limit)
      .map(toEntry);
  }
}

const toEntry = (row: Row): AuditRecord => ({
  id: Number(row.id),
  atUs: Number(row.at_us),
  person: row.person === null ? null : { id: Number(row.person), name: String(row.name) },
  device: row.device as string | null,
  area: row.area as AuditArea,
  subject: String(row.subject),
  says: String(row.says),
  ...(row.saying === null ? {} : { saying: JSON.parse(String(row.saying)) as Saying }),
  before: JSON.parse(String(row.before)) as unknown,
  after: JSON.parse(String(row.after)) as unknown,
});
