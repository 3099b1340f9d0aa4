import { assert } from '../../../shared/assert.ts';
import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { KeptFeeder } from '../../../shared/protocol/feeder.ts';
import type { Sag } from '../../../shared/protocol/judgement.ts';
import type { About } from '../../../shared/protocol/messages.ts';
import type { CheckAbout, CheckResult } from '../../../shared/protocol/outlet-check.ts';
import type { Plate } from '../../../shared/protocol/plate.ts';
import { type Cell, type Database, openDatabase, type Statement } from './database.ts';
import { migrate } from './schema.ts';
import { SqliteSettings } from './settings-store.ts';
import { SqliteArcs } from './sqlite-arcs.ts';
import { SqliteAudit } from './sqlite-audit.ts';
import { SqliteChecks } from './sqlite-checks.ts';
import { SqliteJobs } from './sqlite-jobs.ts';
import { SqlitePeople } from './sqlite-people.ts';
import { SqliteQuarantine } from './sqlite-quarantine.ts';
import { SqliteStock } from './sqlite-stock.ts';
import { SqliteStream } from './sqlite-stream.ts';
import { SqliteSupplies } from './sqlite-supplies.ts';
import type { StockStore } from './stock-store.ts';
import type {
  ArcQuery,
  ArcRecord,
  Batch,
  CheckQuery,
  CheckRecord,
  FirstSupplies,
  NewSag,
  OtherLoadQuery,
  RunningCheck,
  SagQuery,
  SensorRecord,
  Store,
  SupplyQuery,
} from './store.ts';

/** The store in one SQLite file. */
export class SqliteStore implements Store {
  readonly people: SqlitePeople;
  readonly audit: SqliteAudit;
  readonly settings: SqliteSettings;
  readonly circuits: SqliteStock<Circuit>;
  readonly plates: SqliteStock<Plate>;
  readonly jobs: SqliteJobs;
  readonly feeders: SqliteStock<KeptFeeder>;
  readonly quarantine: SqliteQuarantine;
  readonly #database: Database;
  readonly #arcs: SqliteArcs;
  readonly #stream: SqliteStream;
  readonly #checks: SqliteChecks;
  readonly #supplies: SqliteSupplies;
  readonly #keys = new Map<string, number>();
  readonly #cursor: Statement;
  readonly #addSag: Statement;
  #inside = false;

  /** @throws OperatingError when the file cannot be opened or is of a newer version. */
  constructor(path: string) {
    this.#database = openDatabase(path);
    migrate(this.#database, path);
    this.people = new SqlitePeople(this.#database);
    this.audit = new SqliteAudit(this.#database);
    this.settings = new SqliteSettings(this.#database);
    this.circuits = new SqliteStock(this.#database, 'circuit');
    this.plates = new SqliteStock(this.#database, 'plate');
    this.feeders = new SqliteStock(this.#database, 'feeder');
    this.quarantine = new SqliteQuarantine(this.#database);
    this.#arcs = new SqliteArcs(this.#database);
    this.#stream = new SqliteStream(this.#database);
    this.#checks = new SqliteChecks(this.#database);
    this.#supplies = new SqliteSupplies(this.#database);
    this.jobs = new SqliteJobs(this.#database, (sensor) => this.#key(sensor));
    this.#cursor = this.#database.prepare(
      'UPDATE sensors SET kept = ?, settled_boot = ?, settled_sample = ? WHERE key = ?',
    );
    this.#addSag = this.#database.prepare(
      `INSERT INTO sags (sensor, boot, start, started_us, sag) VALUES (?,?,?,?,?)
       ON CONFLICT (sensor, boot, start) DO NOTHING`,
    );
    for (const row of this.#all('SELECT key, id FROM sensors'))
      this.#keys.set(String(row.id), Number(row.key));
  }

  sensors(): SensorRecord[] {
    const rows = this.#all(
      `SELECT sensors.*, about FROM sensors
       JOIN boots ON boots.sensor = sensors.key AND boots.boot = sensors.boot ORDER BY sensors.id`,
    );
    return rows.flatMap((row) => {
      const about = aboutIn(row.about);
      if (!about) return [];
      return {
        sensor: String(row.id),
        site: String(row.site),
        about,
        circuit: row.circuit as number | null,
        plate: row.plate as number | null,
        kept: Number(row.kept),
        settledBoot: Number(row.settled_boot),
        settledSample: Number(row.settled_sample),
      };
    });
  }

  saveAbout(sensor: string, site: string, about: About): void {
    this.together(() => {
      const row = this.#database
        .prepare(
          `INSERT INTO sensors (id, site, boot) VALUES (?, ?, ?)
           ON CONFLICT (id) DO UPDATE SET site = excluded.site, boot = excluded.boot RETURNING key`,
        )
        .get(sensor, site, about.boot);
      this.#keys.set(sensor, Number(row!.key));
      this.saveBoot(sensor, about);
    });
  }

  saveBoot(sensor: string, about: About): void {
    this.#database
      .prepare('INSERT OR REPLACE INTO boots (sensor, boot, about) VALUES (?, ?, ?)')
      .run(this.#key(sensor), about.boot, JSON.stringify(about));
  }

  about(sensor: string, boot: number): About | null {
    const row = this.#database
      .prepare('SELECT about FROM boots WHERE sensor = ? AND boot = ?')
      .get(this.#key(sensor), boot);
    return row ? (JSON.parse(String(row.about)) as About) : null;
  }

  assign(sensor: string, circuit: number | null, plate: number | null): boolean {
    const there = (stock: StockStore<object>, id: number | null) =>
      id === null || stock.one(id)?.retired === false;
    if (!there(this.circuits, circuit) || !there(this.plates, plate)) return false;
    const done = this.#database
      .prepare('UPDATE sensors SET circuit = ?, plate = ? WHERE id = ?')
      .run(circuit, plate, sensor);
    return Number(done.changes) === 1;
  }

  commit(batch: Batch): ArcRecord[] {
    return this.together(() => this.#put(batch));
  }

  rehearse(batch: Batch): void {
    assert(!this.#inside, 'nothing else is taken back with a rehearsal');
    try {
      this.#database.exec('BEGIN IMMEDIATE');
      this.#put(batch);
    } finally {
      this.#rollBack();
    }
  }

  blocks(sensor: string, boot: number, from: number, to: number) {
    return this.#stream.blocks(sensor, this.#key(sensor), boot, from, to);
  }

  blocksBefore(sensor: string, boot: number, sample: number, count: number) {
    return this.#stream.blocksBefore(sensor, this.#key(sensor), boot, sample, count);
  }

  rows(sensor: string, boot: number, from: number, to: number) {
    return this.#stream.rows(this.#key(sensor), boot, from, to);
  }

  rowsEnd(sensor: string, boot: number): number {
    return this.#stream.rowsEnd(this.#key(sensor), boot);
  }

  history(sensor: string, fromMs: number, toMs: number, bucketMs: number) {
    return this.#stream.history(this.#key(sensor), fromMs, toMs, bucketMs);
  }

  arcs(query: ArcQuery): ArcRecord[] {
    return this.#arcs.list(query);
  }

  arc(id: number): ArcRecord | null {
    return this.#arcs.one(id);
  }

  flags(sensor: string): number {
    return this.#arcs.flags(sensor);
  }

  acknowledge(id: number, by: string, atUs: number): ArcRecord | null {
    return this.#arcs.acknowledge(id, by, atUs);
  }

  sags({ sensor, fromUs, toUs, limit }: SagQuery): NewSag[] {
    return this.#database
      .prepare(
        `SELECT boot, start, started_us, sag FROM sags
         WHERE sensor = ? AND started_us >= ? AND started_us < ? ORDER BY started_us LIMIT ?`,
      )
      .all(this.#key(sensor), fromUs, toUs, limit)
      .map((row) => ({
        sensor,
        boot: Number(row.boot),
        start: Number(row.start),
        startedUs: Number(row.started_us),
        sag: JSON.parse(String(row.sag)) as Sag,
      }));
  }

  supplies(query: SupplyQuery) {
    return this.#supplies.list(query.sensor, this.#key(query.sensor), query);
  }

  newestSupplies(sensor: string, limit: number) {
    return this.#supplies.newest(sensor, this.#key(sensor), limit);
  }

  firstSupplies(query: FirstSupplies) {
    return this.#supplies.first(query.sensor, this.#key(query.sensor), query);
  }

  otherLoads(query: OtherLoadQuery) {
    return this.#supplies.loads(query.sensor, this.#key(query.sensor), query);
  }

  addCheck(sensor: string | null, about: CheckAbout): number {
    return this.#checks.add(sensor === null ? null : this.#key(sensor), about);
  }

  saveCheck(id: number, running: RunningCheck | null): void {
    this.#checks.save(id, running);
  }

  runningChecks(): CheckRecord[] {
    return this.#checks.running();
  }

  judgeCheck(id: number, result: CheckResult): void {
    this.#checks.judge(id, result);
  }

  check(id: number): CheckRecord | null {
    return this.#checks.one(id);
  }

  checks(query: CheckQuery): CheckRecord[] {
    return this.#checks.judged(query);
  }

  sweep(waveformBytes: number, historyFromMs: number) {
    return this.together(() => ({
      ...this.#stream.sweep(waveformBytes, historyFromMs),
      ...this.#supplies.sweep(historyFromMs * 1_000),
    }));
  }

  together<Result>(work: () => Result): Result {
    if (this.#inside) return work();
    this.#database.exec('BEGIN IMMEDIATE');
    this.#inside = true;
    try {
      const result = work();
      assert(!(result instanceof Promise), 'a transaction does not wait');
      this.#database.exec('COMMIT');
      return result;
    } catch (error) {
      this.#rollBack();
      throw error;
    } finally {
      this.#inside = false;
    }
  }

  close(): void {
    this.#database.close();
  }

  #put(batch: Batch): ArcRecord[] {
    for (const block of batch.blocks) this.#stream.addBlock(this.#key(block.sensor), block);
    for (const chunk of batch.rows) this.#stream.addRows(this.#key(chunk.sensor), chunk);
    for (const second of batch.seconds) this.#stream.addSecond(this.#key(second.sensor), second);
    for (const { sensor, boot, start, startedUs, sag } of batch.sags)
      this.#addSag.run(this.#key(sensor), boot, start, startedUs, JSON.stringify(sag));
    for (const supply of batch.supplies) this.#supplies.add(this.#key(supply.sensor), supply);
    for (const load of batch.otherLoads) this.#supplies.addLoad(this.#key(load.sensor), load);
    const arcs = batch.arcs
      .map((arc) => this.#arcs.insert(this.#key(arc.sensor), arc))
      .filter((id) => id !== null);
    for (const id of arcs) this.#arcs.pairUp(id);
    for (const { sensor, kept, settledBoot, settledSample } of batch.cursors)
      this.#cursor.run(kept, settledBoot, settledSample, this.#key(sensor));
    for (const record of batch.quarantined) this.quarantine.add(this.#key(record.sensor), record);
    return arcs.map((id) => this.#arcs.one(id)!);
  }

  #key(sensor: string): number {
    const key = this.#keys.get(sensor);
    assert(key !== undefined, `${sensor} was saved before anything of it`);
    return key;
  }

  #all(sql: string) {
    return this.#database.prepare(sql).all();
  }

  /** A full disk may have rolled back already; the first error is the one to tell. */
  #rollBack(): void {
    try {
      this.#database.exec('ROLLBACK');
    } catch {}
  }
}

/** Null where the words cannot be read: one sensor's must not keep the others from a start. */
function aboutIn(text: Cell | undefined): About | null {
  try {
    return JSON.parse(String(text)) as About;
  } catch {
    return null;
  }
}
