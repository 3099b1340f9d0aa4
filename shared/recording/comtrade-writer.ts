import { assert } from '../assert.ts';
import type { EpochMicros } from '../units.ts';
import { civilTime } from './civil-time.ts';
import type { DataKind } from './comtrade-cfg.ts';
import type { ChannelFacts } from './reader.ts';
import type { ByteSink } from './source.ts';
import { encodeText } from './text.ts';
import type { RecordingWriter, WriterSetup } from './writer.ts';

export interface ComtradeSetup extends WriterSetup {
  kind: DataKind;
  station: string;
  device: string;
  /** Rows, gaps included, and rows that are kept: where both are known nothing is rewritten. */
  known?: { rows: number; kept: number };
}

/** A .cfg and a .dat, or one .cff for both. */
export type ComtradeSinks = { config: ByteSink; samples: ByteSink } | { single: ByteSink };

/** Counts reach as far below zero as above: the type's least number marks a missing sample. */
const mostCount = { BINARY: 0x7fff, BINARY32: 0x7fff_ffff } as const;
const floatRange = '3.40282347E+38';
/** Room for lengths that are only known at the end; leading zeros read as nothing. */
const rowDigits = 10;
const byteDigits = 12;
/** Longest name of the standard. */
const nameLength = 64;
const bufferBytes = 262_144;
const missingStamp = 0xffff_ffff;
/** Ten digits: what the standard gives an ASCII timestamp. */
const mostAsciiStamp = 9_999_999_999;

/**
 * Writes COMTRADE as it comes: BINARY and ASCII of 16-bit counts after the 1999 edition, all else
 * after the 2013 one. Rows carry their number, so that lost rows are told; timestamps are
 * microseconds as long as their field holds them, then marked missing: the rate is binding.
 */
export class ComtradeWriter implements RecordingWriter {
  /** Values that no count of the file's kind could hold and that were written as the largest. */
  clipped = 0;
  readonly #setup: ComtradeSetup;
  readonly #head: ByteSink;
  readonly #samples: ByteSink;
  readonly #rowsAt: number;
  readonly #bytesAt: number;
  readonly #bytes = new Uint8Array(bufferBytes);
  readonly #view = new DataView(this.#bytes.buffer);
  readonly #rowBytes: number;
  readonly #counts: Float64Array;
  #used = 0;
  #written = 0;
  #row = 0;
  #closed = false;

  constructor(setup: ComtradeSetup, sinks: ComtradeSinks) {
    for (const { scale } of setup.channels)
      assert(scale !== null || !(setup.kind in mostCount), 'counts need a scale');
    this.#setup = setup;
    const single = 'single' in sinks;
    this.#head = single ? sinks.single : sinks.config;
    this.#samples = single ? sinks.single : sinks.samples;
    this.#rowBytes = 8 + (setup.kind === 'BINARY' ? 2 : 4) * setup.channels.length;
    this.#counts = new Float64Array(setup.channels.length);
    const { before, after } = configText(setup, single);
    const front = single ? '--- file type: CFG ---\r\n' : '';
    const { rows, kept } = setup.known ?? { rows: 0, kept: 0 };
    const data = setup.kind === 'ASCII' ? '' : `: ${digits(kept * this.#rowBytes, byteDigits)}`;
    const back = single
      ? ['INF', 'HDR', `DAT ${setup.kind}${data}`]
          .map((section) => `--- file type: ${section} ---\r\n`)
          .join('')
      : '';
    const opening = encodeText(front + before);
    const closing = encodeText(digits(rows, rowDigits) + after + back);
    this.#rowsAt = opening.length;
    const tail = byteDigits + ' ---\r\n'.length;
    this.#bytesAt = data !== '' && single ? opening.length + closing.length - tail : -1;
    this.#head.write(opening);
    this.#head.write(closing);
  }

  writeValues(columns: readonly Float64Array[], frames: number): void {
    const { channels } = this.#setup;
    const counts = this.#counts;
    for (let frame = 0; frame < frames; frame++) {
      for (let index = 0; index < channels.length; index++) {
        const { scale, offset } = channels[index]!;
        const value = columns[index]![frame]!;
        counts[index] = scale === null ? value : Math.round((value - offset) / scale);
      }
      this.#writeRow(counts, 0);
    }
  }

  /** Counts as sampled, the channels of a row side by side. */
  writeCounts(interleaved: Int32Array | Int16Array, frames: number): void {
    const width = this.#setup.channels.length;
    assert(interleaved.length >= frames * width, 'a count for every channel of every row');
    for (let frame = 0; frame < frames; frame++) this.#writeRow(interleaved, frame * width);
  }

  skip(frames: number): void {
    this.#row += frames;
  }

  close(): void {
    assert(!this.#closed, 'a writer is closed once');
    this.#closed = true;
    this.#flush();
    const { known } = this.#setup;
    if (known) {
      assert(this.#row === known.rows, 'as many rows as were promised');
      assert(this.#bytesAt < 0 || this.#written === known.kept * this.#rowBytes, 'and kept ones');
      return;
    }
    const put = (value: number, length: number, at: number) =>
      this.#head.rewrite(encodeText(digits(value, length)), at);
    put(this.#row, rowDigits, this.#rowsAt);
    if (this.#bytesAt >= 0) put(this.#written, byteDigits, this.#bytesAt);
  }

  #writeRow(counts: Float64Array | Int32Array | Int16Array, from: number): void {
    const { kind, rateHz } = this.#setup;
    const stamp = Math.round((this.#row / rateHz) * 1e6);
    this.#row++;
    if (kind === 'ASCII') this.#writeAscii(counts, from, stamp);
    else this.#writeBinary(counts, from, stamp, kind);
  }

  #writeBinary(
    counts: Float64Array | Int32Array | Int16Array,
    from: number,
    stamp: number,
    kind: Exclude<DataKind, 'ASCII'>,
  ): void {
    if (this.#used + this.#rowBytes > bufferBytes) this.#flush();
    const view = this.#view;
    view.setUint32(this.#used, this.#row, true);
    view.setUint32(this.#used + 4, Math.min(stamp, missingStamp), true);
    let at = this.#used + 8;
    const most = kind === 'FLOAT32' ? Number.POSITIVE_INFINITY : mostCount[kind];
    for (let index = 0; index < this.#counts.length; index++) {
      let count = counts[from + index]!;
      if (count > most || count < -most) {
        this.clipped++;
        count = count > 0 ? most : -most;
      }
      if (kind === 'BINARY') view.setInt16(at, count, true);
      else if (kind === 'BINARY32') view.setInt32(at, count, true);
      else view.setFloat32(at, count, true);
      at += kind === 'BINARY' ? 2 : 4;
    }
    this.#used = at;
  }

  #writeAscii(counts: Float64Array | Int32Array | Int16Array, from: number, stamp: number): void {
    let text = `${this.#row},${stamp > mostAsciiStamp ? '' : stamp}`;
    for (let index = 0; index < this.#counts.length; index++) text += `,${counts[from + index]!}`;
    text += '\r\n';
    if (this.#used + text.length > bufferBytes) this.#flush();
    for (let i = 0; i < text.length; i++) this.#bytes[this.#used++] = text.charCodeAt(i);
  }

  #flush(): void {
    this.#samples.write(this.#bytes.subarray(0, this.#used));
    this.#written += this.#used;
    this.#used = 0;
  }
}

const digits = (value: number, length: number) => String(value).padStart(length, '0');

/** The .cfg in two parts, with the number of rows to stand between them. */
function configText(setup: ComtradeSetup, single: boolean) {
  const { channels, kind } = setup;
  const old = !single && (kind === 'BINARY' || (kind === 'ASCII' && channels.every(isShort)));
  const lines = [
    `${plain(setup.station)},${plain(setup.device)},${old ? 1999 : 2013}`,
    `${channels.length},${channels.length}A,0D`,
    ...channels.map((channel, index) => channelLine(channel, index, setup, old)),
    `${setup.hertz ?? 0}`,
    '1',
    `${setup.rateHz},`,
  ];
  const start = dateLine(setup.startedAt);
  // Local time is UTC; how good the clock was is not known (tmq F, leap second 3).
  const tail = ['', start, start, kind, '1', ...(old ? [] : ['0,0', 'F,3']), ''];
  return { before: lines.join('\r\n'), after: tail.join('\r\n') };
}

const isShort = (channel: ChannelFacts) => channel.scale !== null && channel.bits <= 16;

function channelLine(
  channel: ChannelFacts,
  index: number,
  { kind }: ComtradeSetup,
  old: boolean,
): string {
  const { name, unit, scale, offset } = channel;
  const real = kind === 'FLOAT32' || scale === null;
  const most = real ? floatRange : kind === 'BINARY' || old ? 0x7fff : 0x7fff_ffff;
  const line = scale === null ? [1, 0] : [scale, offset];
  return [index + 1, plain(name), '', '', unit, ...line, 0, `-${most}`, most, 1, 1, 'P'].join(',');
}

/** A name as a field: no comma or newline, 64 characters. */
function plain(name: string): string {
  return name
    .replace(/[,\p{Control}]/gu, ' ')
    .trim()
    .slice(0, nameLength);
}

function dateLine(epoch: EpochMicros | null): string {
  const time = civilTime(epoch ?? 0);
  const two = (value: number) => String(value).padStart(2, '0');
  const date = `${two(time.day)}/${two(time.month)}/${String(time.year).padStart(4, '0')}`;
  const micros = String(time.micros).padStart(6, '0');
  return `${date},${two(time.hour)}:${two(time.minute)}:${two(time.second)}.${micros}`;
}
