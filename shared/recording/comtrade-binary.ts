import type { ComtradeConfig } from './comtrade-cfg.ts';
import type { Pick } from './comtrade-channels.ts';
import { cutError, orderKind, RowOrder, stampProbeRows, stampRate } from './comtrade-order.ts';
import { type RecordingBlock, RecordingError, readFrames } from './reader.ts';
import type { ByteSource } from './source.ts';

const bufferBytes = 262_144;
/** Floats from here on mark a missing sample; the standard's code is -3.4e38. */
const mostFloat = 1e30;

/** The rows of a .dat of kind BINARY, BINARY32 or FLOAT32 (little-endian). */
export class BinaryRows {
  readonly rateHz: number;
  /** Rows, gaps included, where that can be known; else null. */
  readonly frames: number | null;
  missing = 0;
  readonly #name: string;
  readonly #source: ByteSource;
  readonly #config: ComtradeConfig;
  readonly #picks: readonly Pick[];
  readonly #rowBytes: number;
  readonly #rows: number;
  readonly #order: RowOrder;
  readonly #ordered: boolean;
  readonly #bytes: Uint8Array;
  readonly #view: DataView;
  readonly #blocks: Float64Array[];
  #read = 0;
  #used = 0;
  #buffered = 0;
  /** Rows lost before the first row that is not used yet; -1 where it was not placed yet. */
  #waiting = -1;
  #stampTurns = 0;
  #lastStamp = 0;

  /** @throws RecordingError where rows are missing at the end. */
  constructor(name: string, source: ByteSource, config: ComtradeConfig, picks: readonly Pick[]) {
    this.#name = name;
    this.#source = source;
    this.#config = config;
    this.#picks = picks;
    const sampleBytes = config.kind === 'BINARY' ? 2 : 4;
    this.#rowBytes =
      8 + sampleBytes * config.analogs.length + 2 * Math.ceil(config.statusCount / 16);
    this.#bytes = new Uint8Array(
      this.#rowBytes * Math.max(1, Math.floor(bufferBytes / this.#rowBytes)),
    );
    this.#view = new DataView(this.#bytes.buffer);
    const there = Math.floor(source.size / this.#rowBytes);
    if (there === 0)
      throw new RecordingError(
        `${name}: holds ${source.size} bytes, not one row of ${this.#rowBytes}`,
      );
    const kind =
      there < config.rows || config.rateHz === 0
        ? orderKind(config, this.#number(0), this.#number(there - 1))
        : 'counted';
    if (there < config.rows && kind !== 'numbered') throw cutError(name, there, config);
    this.#rows = config.rows > 0 ? Math.min(there, config.rows) : there;
    this.frames = kind === 'timed' ? null : kind === 'numbered' ? config.rows : this.#rows;
    this.rateHz = kind === 'timed' ? this.#probe() : config.rateHz;
    this.#order = new RowOrder(kind, this.rateHz, config);
    this.#ordered = kind !== 'counted';
    this.#blocks = picks.map(() => new Float64Array(readFrames));
  }

  get progress(): number {
    return (this.#read - this.#buffered + this.#used) / this.#rows;
  }

  next(): RecordingBlock | null {
    if (this.#used === this.#buffered && !this.#fill()) return null;
    const first = this.#used;
    const most = Math.min(this.#buffered, first + readFrames);
    let end = most;
    let gapFrames = 0;
    if (this.#ordered) {
      gapFrames = this.#waiting >= 0 ? this.#waiting : this.#place(first);
      this.#waiting = -1;
      for (end = first + 1; end < most; end++) {
        const gap = this.#place(end);
        if (gap === 0) continue;
        this.#waiting = gap;
        break;
      }
    }
    for (let channel = 0; channel < this.#picks.length; channel++)
      this.#decode(channel, first, end - first);
    this.#used = end;
    return { channels: this.#blocks, frames: end - first, gapFrames };
  }

  #fill(): boolean {
    const wanted = Math.min(this.#bytes.length / this.#rowBytes, this.#rows - this.#read);
    if (wanted === 0) return false;
    const bytes = this.#bytes.subarray(0, wanted * this.#rowBytes);
    const got = this.#source.read(bytes, this.#read * this.#rowBytes);
    // The file was cut while it was read.
    if (got < bytes.length)
      throw cutError(this.#name, this.#read + Math.floor(got / this.#rowBytes), this.#config);
    this.#read += wanted;
    this.#used = 0;
    this.#buffered = wanted;
    return true;
  }

  #place(row: number): number {
    const at = row * this.#rowBytes;
    const stamp = this.#unwound(this.#view.getUint32(at + 4, true));
    const gap = this.#order.place(this.#view.getUint32(at, true), stamp);
    if (gap < 0)
      throw new RecordingError(
        `${this.#name}: row ${this.#read - this.#buffered + row + 1}: ${this.#order.refusal}`,
      );
    return gap;
  }

  /** Timestamps of 32 bits begin again at 0 after 71.6 minutes of microseconds. */
  #unwound(stamp: number): number {
    if (stamp < this.#lastStamp - 2 ** 31) this.#stampTurns += 2 ** 32;
    this.#lastStamp = stamp;
    return stamp + this.#stampTurns;
  }

  #number(row: number): number {
    const bytes = new Uint8Array(4);
    this.#source.read(bytes, row * this.#rowBytes);
    return new DataView(bytes.buffer).getUint32(0, true);
  }

  #probe(): number {
    const rows = Math.min(this.#rows, stampProbeRows, this.#bytes.length / this.#rowBytes);
    this.#source.read(this.#bytes.subarray(0, rows * this.#rowBytes), 0);
    const stamps = new Float64Array(rows);
    for (let row = 0; row < rows; row++)
      stamps[row] = this.#view.getUint32(row * this.#rowBytes + 4, true);
    return stampRate(this.#name, stamps, this.#config);
  }

  /** Rows of one channel to volts or amperes; missing ones are not a number. */
  #decode(channel: number, first: number, frames: number): void {
    const { column, scale, offset } = this.#picks[channel]!;
    const into = this.#blocks[channel]!;
    const rowBytes = this.#rowBytes;
    const start = first * rowBytes + 8;
    const { kind } = this.#config;
    const view = this.#view;
    this.missing +=
      kind === 'BINARY'
        ? decodeInt16(view, start + 2 * column, rowBytes, frames, scale, offset, into)
        : kind === 'BINARY32'
          ? decodeInt32(view, start + 4 * column, rowBytes, frames, scale, offset, into)
          : decodeFloat32(view, start + 4 * column, rowBytes, frames, scale, offset, into);
  }
}

// Three loops, one a sample type: each is compiled for its own and stays at about a nanosecond a
// value. They answer how many values were missing.

function decodeInt16(
  view: DataView,
  start: number,
  rowBytes: number,
  frames: number,
  scale: number,
  offset: number,
  into: Float64Array,
): number {
  let missing = 0;
  for (let row = 0, at = start; row < frames; row++, at += rowBytes) {
    const raw = view.getInt16(at, true);
    const there = raw !== -0x8000;
    into[row] = there ? raw * scale + offset : Number.NaN;
    if (!there) missing++;
  }
  return missing;
}

function decodeInt32(
  view: DataView,
  start: number,
  rowBytes: number,
  frames: number,
  scale: number,
  offset: number,
  into: Float64Array,
): number {
  let missing = 0;
  for (let row = 0, at = start; row < frames; row++, at += rowBytes) {
    const raw = view.getInt32(at, true);
    const there = raw !== -0x80000000;
    into[row] = there ? raw * scale + offset : Number.NaN;
    if (!there) missing++;
  }
  return missing;
}

/** Missing is the lowest float; neither can what is no number or past all bounds be a sample. */
function decodeFloat32(
  view: DataView,
  start: number,
  rowBytes: number,
  frames: number,
  scale: number,
  offset: number,
  into: Float64Array,
): number {
  let missing = 0;
  for (let row = 0, at = start; row < frames; row++, at += rowBytes) {
    const raw = view.getFloat32(at, true);
    const there = raw > -mostFloat && raw < mostFloat;
    into[row] = there ? raw * scale + offset : Number.NaN;
    if (!there) missing++;
  }
  return missing;
}
