import type { RowBatch } from '../../../shared/watch/contract.ts';
import { limits } from '../limits.ts';
import { packRows, unpackRows } from './columns.ts';
import type { Cell, Database, Row, Statement } from './database.ts';
import type { Block, Bucket, RowsChunk, Second, SweepResult } from './store.ts';

const blockColumns = 'boot, seq, first, time, n, lost, flags, bits, data';
const pairColumns = [1, 2, 3].flatMap((p) => [`v${p}lo`, `v${p}hi`, `i${p}lo`, `i${p}hi`]);

/** Blocks of samples, half-cycle rows and one-second history as they lie in SQLite. */
export class SqliteStream {
  readonly #database: Database;
  readonly #addBlock: Statement;
  readonly #addRows: Statement;
  readonly #addSecond: Statement;
  readonly #blocks: Statement;
  readonly #blocksBefore: Statement;
  readonly #rows: Statement;
  readonly #rowsEnd: Statement;
  readonly #history: Statement;

  constructor(database: Database) {
    this.#database = database;
    this.#addBlock = database.prepare(
      `INSERT OR REPLACE INTO blocks (sensor, ${blockColumns}) VALUES (?,?,?,?,?,?,?,?,?,?)`,
    );
    this.#addRows = database.prepare(
      `INSERT INTO rows (sensor, boot, first, last, n, pairs, stored_ms, data)
       VALUES (?,?,?,?,?,?,?,?) ON CONFLICT (sensor, boot, last) DO NOTHING`,
    );
    this.#addSecond = database.prepare(
      `INSERT OR REPLACE INTO seconds (sensor, time_ms, hertz, ${pairColumns.join(', ')})
       VALUES (?,?,?${',?'.repeat(pairColumns.length)})`,
    );
    // A block reaches at most `n` ≤ 1,024 frames past its first: the range stays on the index.
    this.#blocks = database.prepare(
      `SELECT ${blockColumns} FROM blocks WHERE sensor = ? AND boot = ? AND first > ? - 1024
       AND first + n > ? AND first < ? ORDER BY first`,
    );
    this.#blocksBefore = database.prepare(
      `SELECT ${blockColumns} FROM blocks WHERE sensor = ? AND boot = ? AND first < ?
       ORDER BY first DESC LIMIT ?`,
    );
    this.#rows = database.prepare(
      `SELECT n, pairs, data FROM rows WHERE sensor = ? AND boot = ? AND last >= ? AND first <= ?
       ORDER BY last`,
    );
    this.#rowsEnd = database.prepare(
      'SELECT max(last) AS last FROM rows WHERE sensor = ? AND boot = ?',
    );
    const extremes = pairColumns.map((name) => `${name.endsWith('lo') ? 'min' : 'max'}(${name})`);
    this.#history = database.prepare(
      `SELECT CAST((time_ms - ?) / ? AS INTEGER) AS bucket,
       ${extremes.map((extreme, at) => `${extreme} AS ${pairColumns[at]}`).join(', ')}
       FROM seconds WHERE sensor = ? AND time_ms >= ? AND time_ms < ? GROUP BY 1 ORDER BY 1`,
    );
  }

  addBlock(key: number, block: Block): void {
    const { boot, seq, first, time, n, lost, flags, data } = block;
    const bytes = new Uint8Array(data.buffer, data.byteOffset, data.byteLength);
    this.#addBlock.run(
      ...[key, boot, seq, first, time, n, lost, flags, data.BYTES_PER_ELEMENT * 8],
      bytes,
    );
  }

  addRows(key: number, { boot, batch }: RowsChunk): void {
    const n = batch.end.length;
    const [first, last] = [batch.end[0]!, batch.end[n - 1]!];
    const pairs = batch.volts.length;
    this.#addRows.run(key, boot, first, last, n, pairs, Date.now(), packRows(batch));
  }

  addSecond(key: number, second: Second): void {
    const pairs = [0, 1, 2].flatMap((pair) =>
      [second.voltsMin, second.voltsMax, second.ampsMin, second.ampsMax].map(
        (column) => column[pair] ?? null,
      ),
    );
    this.#addSecond.run(key, Math.round(second.timeMs), second.hertz, ...pairs);
  }

  blocks(sensor: string, key: number, boot: number, from: number, to: number): Block[] {
    return this.#blocks.all(key, boot, from, from, to).map((row) => toBlock(sensor, row));
  }

  blocksBefore(sensor: string, key: number, boot: number, sample: number, count: number): Block[] {
    const rows = this.#blocksBefore.all(key, boot, sample, count);
    return rows.reverse().map((row) => toBlock(sensor, row));
  }

  rows(key: number, boot: number, from: number, to: number): RowBatch[] {
    return this.#rows
      .all(key, boot, from, to)
      .map((row) => unpackRows(row.data as Uint8Array, Number(row.n), Number(row.pairs)));
  }

  rowsEnd(key: number, boot: number): number {
    return Number(this.#rowsEnd.get(key, boot)?.last ?? -1);
  }

  history(key: number, fromMs: number, toMs: number, bucketMs: number): Bucket[] {
    return this.#history.all(fromMs, bucketMs, key, fromMs, toMs).map((row) => ({
      index: Number(row.bucket),
      voltsMin: figures(row, 'v', 'lo'),
      voltsMax: figures(row, 'v', 'hi'),
      ampsMin: figures(row, 'i', 'lo'),
      ampsMax: figures(row, 'i', 'hi'),
    }));
  }

  sweep(usedBytes: number, historyFromMs: number): Omit<SweepResult, 'supplies' | 'otherLoads'> {
    const run = (sql: string, ...values: Cell[]) =>
      Number(this.#database.prepare(sql).run(...values).changes);
    const oldest = '(SELECT id FROM blocks ORDER BY id LIMIT ?)';
    return {
      blocks:
        this.#usedBytes() > usedBytes
          ? run(`DELETE FROM blocks WHERE id IN ${oldest}`, limits.sweepBlocks)
          : 0,
      rows: run(
        'DELETE FROM rows WHERE id IN (SELECT id FROM rows ORDER BY id LIMIT ?) AND stored_ms < ?',
        limits.sweepBlocks,
        historyFromMs,
      ),
      seconds: run('DELETE FROM seconds WHERE time_ms < ?', historyFromMs),
      sags: run('DELETE FROM sags WHERE started_us < ?', historyFromMs * 1_000),
    };
  }

  /** Of the whole file: next to the waveform all else is small. */
  #usedBytes(): number {
    const pragma = (name: string) => Number(this.#database.prepare(`PRAGMA ${name}`).get()?.[name]);
    return (pragma('page_count') - pragma('freelist_count')) * pragma('page_size');
  }
}

const figures = (row: Row, letter: string, end: string): (number | null)[] =>
  [1, 2, 3]
    .map((pair) => row[`${letter}${pair}${end}`] as number | null)
    .filter((value, pair) => pair === 0 || value !== null);

function toBlock(sensor: string, row: Row): Block {
  const bytes = (row.data as Uint8Array).slice().buffer;
  return {
    sensor,
    boot: Number(row.boot),
    seq: Number(row.seq),
    first: Number(row.first),
    time: Number(row.time),
    n: Number(row.n),
    lost: Number(row.lost),
    flags: Number(row.flags),
    data: row.bits === 16 ? new Int16Array(bytes) : new Int32Array(bytes),
  };
}
