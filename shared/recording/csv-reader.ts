import type { EpochMicros } from '../units.ts';
import { parseStamp } from './civil-time.ts';
import { MissingRows } from './missing-rows.ts';
import { NumberParser } from './number-parser.ts';
import {
  type ChannelFacts,
  maxBlockFrames,
  mostValue,
  type RecordingBlock,
  RecordingError,
  type RecordingFacts,
  type RecordingReader,
} from './reader.ts';
import type { ByteSource } from './source.ts';
import { decodeText, excerpt, isPlain, LineReader } from './text.ts';
import { findRate, TimeGrid } from './time-grid.ts';

/** Rows that the rate is found from: two seconds at 10 kHz, a moment's work. */
const probeRows = 20_000;
/** Comment lines before the header are free, yet a file of nothing else is none of ours. */
const mostCommentLines = 10_000;
const columnNames = ['t_s', 'v1_V', 'i1_A', 'v2_V', 'i2_A', 'v3_V', 'i3_A'];

/** Reads the CSV of a recorded stream: `t_s,v1_V,i1_A[,v2_V,i2_A[,v3_V,i3_A]]`, seconds, V, A. */
export class CsvReader implements RecordingReader {
  readonly facts: RecordingFacts;
  missing = 0;
  readonly #name: string;
  readonly #source: ByteSource;
  readonly #columns: number;
  readonly #row: Float64Array;
  readonly #blocks: Float64Array[];
  readonly #parser = new NumberParser();
  readonly #grid: TimeGrid;
  readonly #there: MissingRows;
  #lines: LineReader;
  #quantumS = 0;
  /** Rows lost before the row that waits in `#row`; -1 where none waits. */
  #waiting = -1;

  /** @throws RecordingError */
  constructor(name: string, source: ByteSource) {
    this.#name = name;
    this.#source = source;
    this.#lines = new LineReader(name, source);
    const comments = this.#skipComments();
    this.#columns = this.#readHeader();
    this.#row = new Float64Array(this.#columns);
    const { position, line } = { position: this.#lines.position, line: this.#lines.line };
    const rateHz = this.#probe(comments.rateHz);
    this.#lines = new LineReader(name, source, position, line);
    this.#grid = new TimeGrid(rateHz);
    this.#blocks = columnNames.slice(1, this.#columns).map(() => new Float64Array(maxBlockFrames));
    this.missing = 0;
    this.#there = new MissingRows({ next: () => this.#nextRows() }, () => this.missing);
    this.facts = {
      format: 'CSV',
      rateHz,
      pairs: (this.#columns - 1) / 2,
      startedAt: comments.startedAt,
      frames: null,
      channels: columnNames.slice(1, this.#columns).map(channelOf),
      nominalHertz: comments.hertz,
      leftOut: [],
    };
  }

  get progress(): number {
    return Math.min(1, this.#lines.position / this.#source.size);
  }

  next(): RecordingBlock | null {
    return this.#there.next();
  }

  #nextRows(): RecordingBlock | null {
    let frames = 0;
    let gapFrames = 0;
    while (frames < maxBlockFrames) {
      if (this.#waiting < 0 && !this.#place()) break;
      if (this.#waiting > 0) {
        if (frames > 0) break;
        gapFrames = this.#waiting;
      }
      for (let column = 1; column < this.#columns; column++)
        this.#blocks[column - 1]![frames] = this.#row[column]!;
      frames++;
      this.#waiting = -1;
    }
    return frames === 0 ? null : { channels: this.#blocks, frames, gapFrames };
  }

  /** Reads a row and puts it on the time grid; false at the end. */
  #place(): boolean {
    const lastQuantumS = this.#quantumS;
    if (!this.#readRow()) return false;
    const timeS = this.#row[0]!;
    // A short time ("0.5") may be exact: only two coarse ones in a row are taken for rounded.
    const quantumS = Math.min(lastQuantumS, this.#quantumS);
    this.#waiting = this.#grid.place(timeS, quantumS);
    if (this.#waiting < 0)
      throw this.#wrong(
        0,
        `the time ${timeS} s is ${this.#grid.stepSamples.toFixed(3)} samples after the ` +
          `row before; at ${this.facts.rateHz} samples/s a whole number is right`,
      );
    return true;
  }

  /** Fills `#row` with the next line's cells, blank lines passed over; false at the end. */
  #readRow(): boolean {
    const lines = this.#lines;
    do {
      if (!lines.next()) return false;
    } while (lines.start === lines.end);
    const { bytes, end } = lines;
    const parser = this.#parser;
    let at = lines.start;
    for (let column = 0; column < this.#columns; column++) {
      if (at > end) throw this.#cellCount(column);
      const value = parser.parse(bytes, at, end);
      if (Number.isNaN(value)) this.#miss(column, at);
      if (Math.abs(value) > mostValue)
        throw this.#wrong(
          column,
          `${value} is beyond ${mostValue}; seconds, volts, amperes are needed`,
        );
      this.#row[column] = value;
      if (column === 0) this.#quantumS = resolution(parser.lastDigit);
      at = parser.stop + 1;
    }
    if (at <= end) throw this.#cellCount(lines.text().split(',').length);
    return true;
  }

  #skipComments() {
    const found = {
      startedAt: null as EpochMicros | null,
      hertz: null as 50 | 60 | null,
      rateHz: null as number | null,
    };
    const lines = this.#lines;
    while (lines.line <= mostCommentLines) {
      if (!lines.next())
        throw new RecordingError(
          this.#source.size === 0
            ? `${this.#name}: is empty; a header "t_s,v1_V,i1_A" and rows are needed`
            : `${this.#name}: holds no header; "t_s,v1_V,i1_A" is needed`,
        );
      const text = lines
        .text()
        .replace(/^\ufeff/, '')
        .trim();
      if (text !== '' && !text.startsWith('#')) return found;
      const [, key, value = ''] = /^#\s*(started|hertz|rate):\s*(\S+)$/.exec(text) ?? [];
      if (key === 'started') found.startedAt = parseStamp(value);
      if (key === 'hertz' && (value === '50' || value === '60'))
        found.hertz = value === '50' ? 50 : 60;
      if (key === 'rate') found.rateHz = Number(value);
    }
    throw new RecordingError(
      `${this.#name}: no header in the first ${mostCommentLines} lines; "t_s,v1_V,i1_A" is needed`,
    );
  }

  /** Checks the header that `#lines` stands on; answers the number of columns. */
  #readHeader(): number {
    const header = this.#lines.text().replace(/^\ufeff/, '');
    if (!isPlain(header))
      throw new RecordingError(
        `${this.#name}: line ${this.#lines.line} is no text; ` +
          'a CSV header "t_s,v1_V,i1_A" is needed',
      );
    const cells = header.split(',');
    for (const [index, cell] of cells.entries()) {
      const wanted = columnNames[index];
      if (cell !== wanted)
        throw this.#wrong(
          index,
          wanted === undefined
            ? `the header has ${cells.length} columns; 3, 5 or 7 are right`
            : `the header says "${excerpt(cell)}" where "${wanted}" is needed`,
          false,
        );
    }
    if (cells.length < 3 || cells.length % 2 === 0)
      throw this.#wrong(
        cells.length,
        `the header ends where "${columnNames[cells.length]}" is needed`,
        false,
      );
    return cells.length;
  }

  /** Samples a second from the first rows; a rate told in a comment holds where they agree. */
  #probe(told: number | null): number {
    const times = new Float64Array(probeRows);
    let quantumS = 1;
    let rows = 0;
    while (rows < probeRows && this.#readRow()) {
      times[rows++] = this.#row[0]!;
      quantumS = Math.min(quantumS, this.#quantumS);
    }
    if (rows < 2)
      throw new RecordingError(
        `${this.#name}: at least 2 rows are needed to find the rate; it has ${rows}`,
      );
    const rate = findRate(times.subarray(0, rows), quantumS);
    if (rate === null)
      throw new RecordingError(
        `${this.#name}: column 1 (t_s) does not rise over the first ${rows} rows; ` +
          'seconds are needed',
      );
    const agrees = told !== null && Math.abs(told / rate - 1) < 1e-3 + quantumS * rate;
    return agrees ? told : rate;
  }

  /** "nan" is how programs write a value that is not there; no time may be missing. */
  #miss(column: number, at: number): void {
    const { bytes } = this.#lines;
    const cell = decodeText(bytes.subarray(at, this.#parser.stop)).trim();
    if (column === 0 || cell.toLowerCase() !== 'nan') throw this.#noNumber(column);
    this.missing++;
  }

  #noNumber(column: number): RecordingError {
    const { lines, text } = { lines: this.#lines, text: this.#lines.text() };
    const cell = text.split(',')[column] ?? '';
    if (!lines.closed) return this.#cut();
    return this.#wrong(
      column,
      cell.trim() === ''
        ? 'the cell is empty; a number is needed'
        : `"${excerpt(cell)}" is no number`,
    );
  }

  #cellCount(cells: number): RecordingError {
    if (!this.#lines.closed && cells < this.#columns) return this.#cut();
    return new RecordingError(
      `${this.#name}: line ${this.#lines.line} has ${cells} cells ` +
        `where ${this.#columns} are needed`,
    );
  }

  #cut(): RecordingError {
    return new RecordingError(
      `${this.#name}: the last line (${this.#lines.line}) is cut in the middle; ` +
        `${this.#columns} numbers are needed`,
    );
  }

  #wrong(column: number, says: string, named = true): RecordingError {
    const place = named ? `${column + 1} (${columnNames[column]})` : column + 1;
    return new RecordingError(`${this.#name}: line ${this.#lines.line}, column ${place}: ${says}`);
  }
}

/** 10^power of the powers that times are written with. */
const resolutions = Float64Array.from({ length: 24 }, (_, power) => 10 ** -power);

function resolution(power: number): number {
  return resolutions[-power] ?? 10 ** power;
}

function channelOf(column: string): ChannelFacts {
  const [name = '', unit] = column.split('_');
  return { name, unit: unit === 'V' ? 'V' : 'A', scale: null, offset: 0, bits: 0 };
}
