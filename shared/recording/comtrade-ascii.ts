import type { ComtradeConfig } from './comtrade-cfg.ts';
import type { Pick } from './comtrade-channels.ts';
import { cutError, orderKind, RowOrder, stampProbeRows, stampRate } from './comtrade-order.ts';
import { NumberParser } from './number-parser.ts';
import { mostValue, type RecordingBlock, RecordingError, readFrames } from './reader.ts';
import type { ByteSource } from './source.ts';
import { decodeText, excerpt, LineReader } from './text.ts';

/** The end of a file in which its last row is looked for. */
const tailBytes = 65_536;
const comma = 44;

/** The rows of a .dat of kind ASCII: `n,timestamp,A1..Ak,D1..Dm`. */
export class AsciiRows {
  readonly rateHz: number;
  readonly frames: number | null;
  missing = 0;
  readonly #name: string;
  readonly #source: ByteSource;
  readonly #config: ComtradeConfig;
  readonly #picks: readonly Pick[];
  /** Place of a column among the picks, -1 where it is not read. */
  readonly #placeOf: Int32Array;
  readonly #lastColumn: number;
  readonly #order: RowOrder;
  readonly #numbered: boolean;
  readonly #timed: boolean;
  readonly #row: Float64Array;
  readonly #blocks: Float64Array[];
  readonly #parser = new NumberParser();
  #lines: LineReader;
  #number = 0;
  #stamp = 0;
  #rows = 0;
  #lost = 0;
  #waiting = -1;

  /** @throws RecordingError */
  constructor(name: string, source: ByteSource, config: ComtradeConfig, picks: readonly Pick[]) {
    this.#name = name;
    this.#source = source;
    this.#config = config;
    this.#picks = picks;
    this.#placeOf = new Int32Array(config.analogs.length).fill(-1);
    for (const [place, pick] of picks.entries()) this.#placeOf[pick.column] = place;
    this.#lastColumn = Math.max(...picks.map((pick) => pick.column));
    this.#row = new Float64Array(picks.length);
    this.#blocks = picks.map(() => new Float64Array(readFrames));
    this.#timed = config.rateHz === 0;
    this.#lines = new LineReader(name, source);
    if (!this.#readRow()) throw new RecordingError(`${name}: is empty; rows of samples are needed`);
    const kind = orderKind(config, this.#number, this.#lastNumber());
    this.#numbered = kind === 'numbered';
    this.rateHz = this.#timed ? this.#probe() : config.rateHz;
    this.#order = new RowOrder(kind, this.rateHz, config);
    this.#lines = new LineReader(name, source);
    this.#row.fill(0);
    this.missing = 0;
    this.frames = this.#timed || config.rows === 0 ? null : config.rows;
  }

  get progress(): number {
    return Math.min(1, this.#lines.position / this.#source.size);
  }

  next(): RecordingBlock | null {
    let frames = 0;
    let gapFrames = 0;
    while (frames < readFrames) {
      if (this.#waiting < 0 && !this.#placeRow()) break;
      if (this.#waiting > 0) {
        if (frames > 0) break;
        gapFrames = this.#waiting;
      }
      for (let place = 0; place < this.#picks.length; place++)
        this.#blocks[place]![frames] = this.#row[place]!;
      frames++;
      this.#waiting = -1;
    }
    return frames === 0 ? null : { channels: this.#blocks, frames, gapFrames };
  }

  /** The next row up to the last that was promised; what follows that one is not read. */
  #placeRow(): boolean {
    const promised = this.#config.rows;
    if (promised > 0 && this.#rows + this.#lost >= promised) return false;
    if (!this.#readRow()) {
      if (this.#rows + this.#lost < promised) throw cutError(this.#name, this.#rows, this.#config);
      return false;
    }
    this.#waiting = this.#order.place(this.#number, this.#stamp);
    if (this.#waiting < 0) throw this.#wrong(this.#order.refusal);
    this.#rows++;
    if (this.#numbered) this.#lost += this.#waiting;
    return true;
  }

  /** Fills `#row` from the next line that holds something; false at the end. */
  #readRow(): boolean {
    const { bytes } = this.#lines;
    do {
      if (!this.#lines.next()) return false;
    } while (this.#lines.start === this.#lines.end);
    const { end } = this.#lines;
    const parser = this.#parser;
    this.#number = parser.parse(bytes, this.#lines.start, end);
    if (Number.isNaN(this.#number))
      throw this.#wrong('begins with no row number; "n,timestamp,…" is right');
    let at = parser.stop + 1;
    this.#stamp = parser.parse(bytes, at, end);
    if (this.#timed && Number.isNaN(this.#stamp))
      throw this.#wrong('has no timestamp, and the .cfg tells no rate');
    at = parser.stop + 1;
    for (let column = 0; column <= this.#lastColumn; column++) {
      if (at > end) throw this.#tooShort();
      const place = this.#placeOf[column]!;
      if (place < 0) {
        while (at < end && bytes[at] !== comma) at++;
        at++;
      } else {
        this.#readCell(place, at, end);
        at = parser.stop + 1;
      }
    }
    if (!this.#lines.closed && this.#cells() < 2 + this.#config.analogs.length)
      throw this.#tooShort();
    return true;
  }

  /** One sample; an empty cell and the code 99999 are missing: not a number. */
  #readCell(place: number, at: number, end: number): void {
    const pick = this.#picks[place]!;
    const { bytes } = this.#lines;
    const raw = this.#parser.parse(bytes, at, end);
    if (Number.isNaN(raw)) {
      const cell = decodeText(bytes.subarray(at, this.#parser.stop)).trim();
      if (cell !== '')
        throw this.#wrong(`"${excerpt(cell)}" in column ${pick.column + 3} is no number`);
      this.#miss(place);
    } else if (raw === 99_999 && pick.marks99999) this.#miss(place);
    else {
      const value = raw * pick.scale + pick.offset;
      if (!(Math.abs(value) <= mostValue))
        throw this.#wrong(`${value} in column ${pick.column + 3} is beyond ${mostValue} V or A`);
      this.#row[place] = value;
    }
  }

  #miss(place: number): void {
    this.missing++;
    this.#row[place] = Number.NaN;
  }

  #cells(): number {
    return this.#lines.text().split(',').length;
  }

  #tooShort(): RecordingError {
    const [cells, needed] = [this.#cells(), 2 + this.#config.analogs.length];
    return this.#wrong(
      this.#lines.closed
        ? `has ${cells} cells where ${needed} or more are needed`
        : `is cut in the middle: it has ${cells} cells where ${needed} or more are needed`,
    );
  }

  #wrong(says: string): RecordingError {
    return new RecordingError(`${this.#name}: line ${this.#lines.line}: ${says}`);
  }

  /** Number of the last row, or NaN. */
  #lastNumber(): number {
    const bytes = new Uint8Array(Math.min(tailBytes, this.#source.size));
    this.#source.read(bytes, this.#source.size - bytes.length);
    const last = decodeText(bytes).replaceAll('\u001a', '').trimEnd().split('\n').at(-1) ?? '';
    return Number.parseInt(last, 10);
  }

  #probe(): number {
    const stamps = [this.#stamp];
    while (stamps.length < stampProbeRows && this.#readRow()) stamps.push(this.#stamp);
    return stampRate(this.#name, Float64Array.from(stamps), this.#config);
  }
}
