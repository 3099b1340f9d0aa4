import { closeSync, fstatSync, openSync, readdirSync, readSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import { OperatingError } from '../command/outcome.ts';
import { openRecording } from '../recording/open.ts';
import { RecordingError, type RecordingReader } from '../recording/reader.ts';
import type { ByteSource } from '../recording/source.ts';

export interface OpenRecording {
  /** Reads the file; what is wrong in it comes as an OperatingError of one line. */
  reader: RecordingReader;
  close(): void;
}

/**
 * Opens a recorded stream by its path, with its companions (`.cfg`, `.dat`) found beside it in any
 * case.
 * @throws OperatingError absent, unreadable, or not a recording: one line saying which.
 */
export function openRecordingFile(path: string): OpenRecording {
  const files = new OpenFiles();
  try {
    const main = files.open(path);
    const reader = openRecording({
      name: path,
      main,
      sibling: (extension) => {
        const beside = siblingPath(path, extension);
        return beside === null ? null : files.open(beside);
      },
    });
    return { reader: new OperatingReader(reader), close: () => files.close() };
  } catch (error) {
    files.close();
    throw asOperating(error);
  }
}

function asOperating(error: unknown): unknown {
  return error instanceof RecordingError ? new OperatingError(error.message) : error;
}

/** Turns the pure reader's errors into the command's. */
class OperatingReader implements RecordingReader {
  readonly #reader: RecordingReader;

  constructor(reader: RecordingReader) {
    this.#reader = reader;
  }

  get facts() {
    return this.#reader.facts;
  }

  get progress() {
    return this.#reader.progress;
  }

  get missing() {
    return this.#reader.missing;
  }

  next() {
    try {
      return this.#reader.next();
    } catch (error) {
      throw asOperating(error);
    }
  }
}

/** The same name with another extension, whatever its case. */
function siblingPath(path: string, extension: string): string | null {
  const stem = basename(path, extname(path)).toLowerCase();
  const wanted = `${stem}.${extension}`;
  const there = readdirSync(dirname(path)).find((name) => name.toLowerCase() === wanted);
  return there === undefined ? null : join(dirname(path), there);
}

class OpenFiles {
  readonly #open: number[] = [];

  open(path: string): ByteSource {
    let file: number;
    try {
      file = openSync(path, 'r');
    } catch (error) {
      throw new OperatingError(`${path}: ${faultOf(error)}`);
    }
    this.#open.push(file);
    const stat = fstatSync(file);
    if (!stat.isFile())
      throw new OperatingError(`${path}: is no file; a recording (.csv, .cfg, .cff) is needed`);
    return {
      size: stat.size,
      read: (into, position) => {
        let got = 0;
        try {
          while (got < into.length) {
            const step = readSync(file, into, got, into.length - got, position + got);
            if (step === 0) break;
            got += step;
          }
        } catch (error) {
          throw new OperatingError(`${path}: ${faultOf(error)} at byte ${position + got}`);
        }
        return got;
      },
    };
  }

  close(): void {
    for (const file of this.#open.splice(0)) closeSync(file);
  }
}

function faultOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT' || code === 'ENOTDIR') return 'there is no such file';
  if (code === 'EACCES' || code === 'EPERM') return 'may not be read by this user';
  return `cannot be read (${code ?? String(error)})`;
}
