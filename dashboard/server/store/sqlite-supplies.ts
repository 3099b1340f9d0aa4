import type { OtherLoad } from '../../../shared/protocol/judgement.ts';
import type { Database, Row, Statement } from './database.ts';
import type {
  FirstSupplies,
  NewOtherLoad,
  NewSupply,
  OtherLoadQuery,
  SupplyQuery,
} from './store.ts';

const columns = 'boot, sample, at_us, wiring, pair, e, r, r_lo, r_hi, x, x_lo, x_hi, steps';
const dayUs = 86_400_000_000;

/** What arcs showed of supplies, and what else switched on them, as they lie in SQLite. */
export class SqliteSupplies {
  readonly #database: Database;
  readonly #add: Statement;
  readonly #addLoad: Statement;

  constructor(database: Database) {
    this.#database = database;
    this.#add = database.prepare(
      `INSERT INTO supplies (sensor, ${columns}) VALUES (?${',?'.repeat(13)})
       ON CONFLICT (sensor, boot, sample, pair) DO NOTHING`,
    );
    this.#addLoad = database.prepare(
      `INSERT INTO other_loads (sensor, boot, sample, pair, at_us, event)
       VALUES (?,?,?,?,?,?) ON CONFLICT (sensor, boot, sample, pair) DO NOTHING`,
    );
  }

  add(key: number, { boot, sample, atUs, wiring, pair, supply }: NewSupply): void {
    const { openVolts, ohmsR, ohmsR95, ohmsX, ohmsX95, steps } = supply;
    const figures = [openVolts, ohmsR, ...ohmsR95, ohmsX, ...ohmsX95, steps];
    this.#add.run(key, boot, sample, atUs, wiring, pair, ...figures);
  }

  addLoad(key: number, { boot, sample, atUs, event }: NewOtherLoad): void {
    this.#addLoad.run(key, boot, sample, event.channel, atUs, JSON.stringify(event));
  }

  /** Beside a lone `max()` SQLite gives the other columns of the row that has it. */
  list(sensor: string, key: number, { fromUs, toUs, bucketUs }: SupplyQuery): NewSupply[] {
    return this.#database
      .prepare(
        `SELECT ${columns}, max(at_us) FROM supplies
         WHERE sensor = ? AND at_us >= ? AND at_us < ?
         GROUP BY pair, CAST((at_us - ?) / ? AS INTEGER) ORDER BY at_us, pair`,
      )
      .all(key, fromUs, toUs, fromUs, bucketUs)
      .map((row) => toSupply(sensor, row));
  }

  newest(sensor: string, key: number, limit: number): NewSupply[] {
    return this.#database
      .prepare(`SELECT ${columns} FROM supplies WHERE sensor = ? ORDER BY at_us DESC LIMIT ?`)
      .all(key, limit)
      .map((row) => toSupply(sensor, row));
  }

  first(sensor: string, key: number, { wiring, spanUs, limit }: FirstSupplies): NewSupply[] {
    return this.#database
      .prepare(
        `SELECT ${columns} FROM supplies WHERE sensor = ? AND wiring = ? AND at_us <= ? +
         (SELECT min(at_us) FROM supplies WHERE sensor = ? AND wiring = ?)
         ORDER BY at_us, pair LIMIT ?`,
      )
      .all(key, wiring, spanUs, key, wiring, limit)
      .map((row) => toSupply(sensor, row));
  }

  loads(sensor: string, key: number, { fromUs, toUs, limit }: OtherLoadQuery): NewOtherLoad[] {
    return this.#database
      .prepare(
        `SELECT boot, sample, at_us, event FROM other_loads
         WHERE sensor = ? AND at_us >= ? AND at_us < ? ORDER BY at_us, pair LIMIT ?`,
      )
      .all(key, fromUs, toUs, limit)
      .map((row) => ({
        sensor,
        boot: Number(row.boot),
        sample: Number(row.sample),
        atUs: Number(row.at_us),
        event: JSON.parse(String(row.event)) as OtherLoad,
      }));
  }

  /** Of older days the last estimate stays: it stands on the evidence of those before it. */
  sweep(fromUs: number): { supplies: number; otherLoads: number } {
    const thinned = this.#database
      .prepare(
        `DELETE FROM supplies WHERE at_us < ? AND id NOT IN (SELECT max(id) FROM supplies
         WHERE at_us < ? GROUP BY sensor, pair, wiring, at_us / ${dayUs})`,
      )
      .run(fromUs, fromUs);
    const gone = this.#database.prepare('DELETE FROM other_loads WHERE at_us < ?').run(fromUs);
    return { supplies: Number(thinned.changes), otherLoads: Number(gone.changes) };
  }
}

const toSupply = (sensor: string, row: Row): NewSupply => ({
  sensor,
  boot: Number(row.boot),
  sample: Number(row.sample),
  atUs: Number(row.at_us),
  wiring: String(row.wiring),
  pair: Number(row.pair),
  supply: {
    openVolts: Number(row.e),
    ohmsR: Number(row.r),
    ohmsX: Number(row.x),
    ohmsR95: [Number(row.r_lo), Number(row.r_hi)],
    ohmsX95: [Number(row.x_lo), Number(row.x_hi)],
    steps: Number(row.steps),
  },
});
