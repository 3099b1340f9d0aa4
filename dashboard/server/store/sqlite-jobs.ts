import type { Cell, Database, Row } from './database.ts';
import type {
  CouponDetail,
  CouponRecord,
  JobDetail,
  JobQuery,
  JobRecord,
  JobsStore,
  SetUpDetail,
  SetUpRecord,
} from './jobs-store.ts';

const setUpColumns = `set_ups.id, job, sensors.id AS sensor, detail
  FROM set_ups JOIN sensors ON sensors.key = set_ups.sensor`;

/** Job sheets as they lie in SQLite: what is asked for in columns, the rest as one text. */
export class SqliteJobs implements JobsStore {
  readonly #database: Database;
  readonly #key: (sensor: string) => number;

  constructor(database: Database, key: (sensor: string) => number) {
    this.#database = database;
    this.#key = key;
  }

  addJob(detail: JobDetail): JobRecord {
    const open = Number(detail.closed === null);
    const id = this.#insert('INSERT INTO jobs (open, detail) VALUES (?, ?)', open, text(detail));
    return { id, ...detail };
  }

  setJob({ id, ...detail }: JobRecord): void {
    const open = Number(detail.closed === null);
    this.#run('UPDATE jobs SET open = ?, detail = ? WHERE id = ?', open, text(detail), id);
  }

  job(id: number): JobRecord | null {
    return this.#one('SELECT id, detail FROM jobs WHERE id = ?', toJob, id);
  }

  jobs({ open, before, limit }: JobQuery): JobRecord[] {
    const where = [
      ...(open === undefined ? [] : [['open = ?', Number(open)] as const]),
      ...(before === undefined ? [] : [['id < ?', before] as const]),
    ];
    const filter = where.length > 0 ? `WHERE ${where.map(([sql]) => sql).join(' AND ')}` : '';
    return this.#database
      .prepare(`SELECT id, detail FROM jobs ${filter} ORDER BY id DESC LIMIT ?`)
      .all(...where.map(([, value]) => value), limit)
      .map(toJob);
  }

  addSetUp(job: number, sensor: string, detail: SetUpDetail): SetUpRecord {
    const id = this.#insert(
      'INSERT INTO set_ups (job, sensor, begun, ended, detail) VALUES (?, ?, ?, ?, ?)',
      ...[job, this.#key(sensor), detail.begun.at, detail.ended?.at ?? null, text(detail)],
    );
    return { id, job, sensor, ...detail };
  }

  setSetUp({ id, job: _, sensor: __, ...detail }: SetUpRecord): void {
    const ended = detail.ended?.at ?? null;
    this.#run('UPDATE set_ups SET ended = ?, detail = ? WHERE id = ?', ended, text(detail), id);
  }

  setUp(id: number): SetUpRecord | null {
    return this.#one(`SELECT ${setUpColumns} WHERE set_ups.id = ?`, toSetUp, id);
  }

  setUpsOf(job: number): SetUpRecord[] {
    return this.#database
      .prepare(`SELECT ${setUpColumns} WHERE job = ? ORDER BY set_ups.id`)
      .all(job)
      .map(toSetUp);
  }

  setUpAt(sensor: string, at: string): SetUpRecord | null {
    return this.#one(
      `SELECT ${setUpColumns} WHERE set_ups.sensor = ? AND begun <= ?
       AND (ended IS NULL OR ended > ?) ORDER BY set_ups.id DESC LIMIT 1`,
      ...([toSetUp, this.#key(sensor), at, at] as const),
    );
  }

  openSetUp(sensor: string): SetUpRecord | null {
    const sql = `SELECT ${setUpColumns} WHERE set_ups.sensor = ? AND ended IS NULL
      ORDER BY set_ups.id DESC LIMIT 1`;
    return this.#one(sql, toSetUp, this.#key(sensor));
  }

  addCoupon(setUp: number, detail: CouponDetail): CouponRecord {
    const sql = 'INSERT INTO coupons (set_up, detail) VALUES (?, ?)';
    return { id: this.#insert(sql, setUp, text(detail)), setUp, ...detail };
  }

  setCoupon({ id, setUp: _, ...detail }: CouponRecord): void {
    this.#run('UPDATE coupons SET detail = ? WHERE id = ?', text(detail), id);
  }

  coupon(id: number): CouponRecord | null {
    return this.#one('SELECT id, set_up, detail FROM coupons WHERE id = ?', toCoupon, id);
  }

  couponsOf(setUp: number): CouponRecord[] {
    return this.#database
      .prepare('SELECT id, set_up, detail FROM coupons WHERE set_up = ? ORDER BY id')
      .all(setUp)
      .map(toCoupon);
  }

  #one<T>(sql: string, to: (row: Row) => T, ...values: Cell[]): T | null {
    const row = this.#database.prepare(sql).get(...values);
    return row ? to(row) : null;
  }

  #insert(sql: string, ...values: Cell[]): number {
    return Number(this.#database.prepare(sql).run(...values).lastInsertRowid);
  }

  #run(sql: string, ...values: Cell[]): void {
    this.#database.prepare(sql).run(...values);
  }
}

const text = (detail: object): string => JSON.stringify(detail);

const toJob = (row: Row): JobRecord => ({
  id: Number(row.id),
  ...(JSON.parse(String(row.detail)) as JobDetail),
});

const toSetUp = (row: Row): SetUpRecord => ({
  id: Number(row.id),
  job: Number(row.job),
  sensor: String(row.sensor),
  ...(JSON.parse(String(row.detail)) as SetUpDetail),
});

const toCoupon = (row: Row): CouponRecord => ({
  id: Number(row.id),
  setUp: Number(row.set_up),
  ...(JSON.parse(String(row.detail)) as CouponDetail),
});
