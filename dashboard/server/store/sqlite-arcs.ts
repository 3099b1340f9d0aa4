import { say } from '../../../shared/rules/say.ts';
import type { Cell, Database, Row, Statement } from './database.ts';
import type { ArcQuery, ArcRecord, NewArc } from './store.ts';
import { twinLooksBackUs, twinOf } from './twins.ts';

const columns = `arcs.id, sensors.id AS sensor, arcs.boot, start, "end", started_us, ended_us,
  detail, seen_by, seen_us, arcs.circuit, at, twin, counted_by
  FROM arcs JOIN sensors ON sensors.key = arcs.sensor`;

/** Arcs as they lie in SQLite: what is asked for in columns, the rest as one text. */
export class SqliteArcs {
  readonly #database: Database;
  readonly #insert: Statement;
  readonly #one: Statement;
  readonly #flags: Statement;
  readonly #seen: Statement;
  readonly #others: Statement;
  readonly #pair: Statement;

  constructor(database: Database) {
    this.#database = database;
    this.#insert = database.prepare(
      // Not "OR IGNORE", which would also let an arc that cannot be stored go without a word.
      `INSERT INTO arcs
       (sensor, boot, start, "end", started_us, ended_us, verdict, detail, circuit, at,
        job, set_up)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
       ON CONFLICT (sensor, boot, start) DO NOTHING`,
    );
    this.#one = database.prepare(`SELECT ${columns} WHERE arcs.id = ?`);
    this.#flags = database.prepare(
      `SELECT count(*) AS n FROM arcs JOIN sensors ON sensors.key = arcs.sensor
       WHERE sensors.id = ? AND verdict IN ('underpowered', 'unsuited') AND seen_by IS NULL
       AND counted_by IS NULL`,
    );
    this.#others = database.prepare(
      `SELECT ${columns} WHERE arcs.circuit = ? AND at <> ? AND twin IS NULL
       AND started_us BETWEEN ? AND ? AND ended_us > ? ORDER BY started_us DESC LIMIT 8`,
    );
    this.#pair = database.prepare('UPDATE arcs SET twin = ?, counted_by = ? WHERE id = ?');
    this.#seen = database.prepare(
      'UPDATE arcs SET seen_by = ?, seen_us = ? WHERE id = ? AND seen_by IS NULL',
    );
  }

  /** Its id; null when the arc was there already. */
  insert(sensorKey: number, arc: NewArc): number | null {
    const { start, end, startedUs, endedUs } = arc;
    const { says, plate, circuit, plateVersion, circuitVersion, rateHz, pairs } = arc;
    const { supply, hung, weld } = arc;
    const versions = { plateVersion, circuitVersion };
    const judged = { arc: arc.arc, says, plate, circuit, ...versions };
    const detail = { ...judged, rateHz, pairs, supply, weld };
    const place = [sensorKey, arc.boot, start, end, startedUs, endedUs];
    const wire = [hung?.circuit ?? null, hung?.at ?? null];
    const whose = [weld?.job ?? null, weld?.setUp ?? null];
    const text = JSON.stringify(detail);
    const done = this.#insert.run(...place, arc.arc.verdict, text, ...wire, ...whose);
    return Number(done.changes) === 0 ? null : Number(done.lastInsertRowid);
  }

  /** Ties an arc to the same weld at the circuit's other end, where that is stored already. */
  pairUp(id: number): void {
    const arc = this.one(id);
    if (!arc?.hung || arc.twin !== null) return;
    const { circuit, at } = arc.hung;
    const { startedUs, endedUs } = arc;
    const others = this.#others
      .all(circuit, at, startedUs - twinLooksBackUs, endedUs, startedUs)
      .map(toArc);
    for (const { record, twin, countedBy } of twinOf(arc, others))
      this.#pair.run(twin, countedBy, record.id);
  }

  one(id: number): ArcRecord | null {
    const row = this.#one.get(id);
    return row ? toArc(row) : null;
  }

  list(query: ArcQuery): ArcRecord[] {
    const where: string[] = [];
    const values: Cell[] = [];
    if (query.sensor !== undefined) {
      where.push('arcs.sensor = (SELECT key FROM sensors WHERE id = ?)');
      values.push(query.sensor);
    }
    if (query.verdict !== undefined) {
      where.push('verdict = ?');
      values.push(query.verdict);
    }
    if (query.job !== undefined) {
      where.push('arcs.job = ?');
      values.push(query.job);
    }
    if (query.setUp !== undefined) {
      where.push('arcs.set_up = ?');
      values.push(query.setUp);
    }
    if (query.before) {
      where.push('(started_us, arcs.id) < (?, ?)');
      values.push(query.before.startedUs, query.before.id);
    }
    const filter = where.length > 0 ? `WHERE ${where.join(' AND ')}` : '';
    return this.#database
      .prepare(`SELECT ${columns} ${filter} ORDER BY started_us DESC, arcs.id DESC LIMIT ?`)
      .all(...values, query.limit)
      .map(toArc);
  }

  flags(sensor: string): number {
    return Number(this.#flags.get(sensor)?.n ?? 0);
  }

  acknowledge(id: number, by: string, atUs: number): ArcRecord | null {
    this.#seen.run(by, atUs, id);
    return this.one(id);
  }
}

/** What lies in the one text; `supply` and the versions came later than the rest. */
type Detail = Pick<ArcRecord, 'arc' | 'says' | 'plate' | 'circuit' | 'rateHz' | 'pairs'> &
  Partial<Pick<ArcRecord, 'supply' | 'weld'>>;

/** Of a text that cannot be read nothing is made up: an arc was here, and nothing is proven. */
const unreadable: Detail = {
  arc: {
    ...{ startS: 0, endS: 0, durationS: 0, lostFraction: 1, verdict: 'unproven' },
    ...{ channels: [], findings: [] },
  },
  ...{ says: say('wasUnproven').says, plate: null, circuit: null, rateHz: 1_000, pairs: 1 },
};

function detailOf(row: Row): Detail {
  try {
    return JSON.parse(String(row.detail)) as Detail;
  } catch {
    return unreadable;
  }
}

function toArc(row: Row): ArcRecord {
  const { supply = null, ...detail } = detailOf(row);
  const { seen_by: by, at } = row;
  return {
    // Arcs of old were stored without.
    ...{ plateVersion: null, circuitVersion: null },
    ...detail,
    supply,
    hung: at === 'outlet' || at === 'machine' ? { circuit: Number(row.circuit), at } : null,
    id: Number(row.id),
    sensor: String(row.sensor),
    boot: Number(row.boot),
    start: Number(row.start),
    end: Number(row.end),
    startedUs: Number(row.started_us),
    endedUs: Number(row.ended_us),
    acknowledged: typeof by === 'string' ? { by, atUs: Number(row.seen_us) } : null,
    twin: row.twin === null ? null : Number(row.twin),
    countedBy: row.counted_by === null ? null : Number(row.counted_by),
  };
}
