import { RecordingError } from './reader.ts';
import type { ByteSource } from './source.ts';

/** Longer lines are no rows of a recording: 2,000 channels of 30 characters fit. */
const longestLineBytes = 65_536;
const newline = 10;
const chunkBytes = 4 * longestLineBytes;

/** Walks the lines of a text, blank ones too, in one fixed buffer. */
export class LineReader {
  readonly bytes = new Uint8Array(chunkBytes);
  /** The line lies in `bytes` from `start` to `end`, without its newline and trailing blanks. */
  start = 0;
  end = 0;
  /** Number of the line, from 1. */
  line = 0;
  /** Whether a newline closed the line: false on the last one of a text that was cut. */
  closed = true;
  readonly #name: string;
  readonly #source: ByteSource;
  #from = 0;
  #filled = 0;
  #position: number;

  constructor(name: string, source: ByteSource, position = 0, line = 0) {
    this.#name = name;
    this.#source = source;
    this.#position = position;
    this.line = line;
  }

  /** Where the next line begins in the source. */
  get position(): number {
    return this.#position - this.#filled + this.#from;
  }

  next(): boolean {
    let at = this.#from;
    for (;;) {
      const filled = this.#filled;
      const found = this.bytes.indexOf(newline, at);
      // Behind `filled` lies what an earlier line left.
      at = found >= 0 && found < filled ? found : filled;
      if (at < filled) break;
      const scanned = at - this.#from;
      if (scanned > longestLineBytes)
        throw new RecordingError(
          `${this.#name}: line ${this.line + 1} is longer than ${longestLineBytes} bytes; ` +
            'this is no text of rows',
        );
      if (!this.#fill()) {
        if (scanned === 0) return false;
        at = this.#filled;
        break;
      }
      at = this.#from + scanned;
    }
    this.closed = at < this.#filled;
    this.start = this.#from;
    this.#from = Math.min(at + 1, this.#filled);
    while (at > this.start && isBlank(this.bytes[at - 1]!)) at--;
    this.end = at;
    this.line++;
    return true;
  }

  text(): string {
    return decodeText(this.bytes.subarray(this.start, this.end));
  }

  /** Moves what is left to the front and reads behind it; false at the end of the source. */
  #fill(): boolean {
    this.bytes.copyWithin(0, this.#from, this.#filled);
    this.#filled -= this.#from;
    this.#from = 0;
    const got = this.#source.read(this.bytes.subarray(this.#filled), this.#position);
    this.#position += got;
    this.#filled += got;
    return got > 0;
  }
}

/** Space, tab, carriage return, and the end-of-file mark of old systems. */
function isBlank(byte: number): boolean {
  return byte === 32 || byte === 13 || byte === 9 || byte === 0x1a;
}

/** UTF-8 where it is that, else ISO 8859-1; a byte order mark is dropped. */
export function decodeText(bytes: Uint8Array): string {
  let latin = '';
  for (let at = 0; at < bytes.length; at += 4096)
    latin += String.fromCharCode(...bytes.subarray(at, at + 4096));
  if (!/[\x80-\xff]/.test(latin)) return latin;
  try {
    const escaped = latin.replace(
      /[%\x80-\xff]/g,
      (char) => `%${char.charCodeAt(0).toString(16).padStart(2, '0')}`,
    );
    return decodeURIComponent(escaped).replace(/^\ufeff/, '');
  } catch {
    return latin;
  }
}

/** Text to UTF-8. */
export function encodeText(text: string): Uint8Array {
  const escaped = encodeURIComponent(text.replace(/\p{Surrogate}/gu, '?'));
  const bytes: number[] = [];
  for (let at = 0; at < escaped.length; at++) {
    const coded = escaped[at] === '%';
    bytes.push(coded ? Number.parseInt(escaped.slice(at + 1, at + 3), 16) : escaped.charCodeAt(at));
    if (coded) at += 2;
  }
  return Uint8Array.from(bytes);
}

/** Whether a text holds no control characters but tabs: junk shows itself by them. */
export function isPlain(text: string): boolean {
  return !/\p{Control}/u.test(text.replaceAll('\t', ''));
}

/** A piece of a file as it may stand in a message between quotes: short, printable. */
export function excerpt(text: string): string {
  const clean = text.trim().replace(/[\p{Control}\p{Surrogate}]/gu, '?');
  return clean.length > 24 ? `${clean.slice(0, 24)}…` : clean;
}
