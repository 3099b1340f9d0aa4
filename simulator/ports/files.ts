import { closeSync, fstatSync, openSync, readdirSync, readSync, writeSync } from 'node:fs';
import { basename, dirname, extname, join } from 'node:path';
import { OperatingError } from '../../shared/command/outcome.ts';
import { openRecording } from '../../shared/recording/open.ts';
import { RecordingError, type RecordingReader } from '../../shared/recording/reader.ts';
import type { ByteSink, ByteSource } from '../../shared/recording/source.ts';

/** Opens a recording with the files beside it. @throws OperatingError */
export function openRecordingAt(path: string): RecordingReader {
  const sibling = (extension: string): ByteSource | null => {
    const wanted = `${basename(path, extname(path))}.${extension}`.toLowerCase();
    const there = readdirSync(dirname(path)).find((name) => name.toLowerCase() === wanted);
    return there ? fileSource(join(dirname(path), there)) : null;
  };
  return inOneLine(() => openRecording({ name: path, main: fileSource(path), sibling }));
}

/** Runs a piece of reading; what is wrong with the recording comes as an OperatingError. */
export function inOneLine<T>(read: () => T): T {
  try {
    return read();
  } catch (error) {
    throw error instanceof RecordingError ? new OperatingError(error.message) : error;
  }
}

function fileSource(path: string): ByteSource {
  const file = attempt(path, () => openSync(path, 'r'));
  return {
    size: attempt(path, () => fstatSync(file).size),
    read: (into, position) =>
      attempt(path, () => {
        let done = 0;
        for (let more = 1; more > 0 && done < into.length; done += more)
          more = readSync(file, into, done, into.length - done, position + done);
        return done;
      }),
  };
}

/** A file being written. @throws OperatingError naming it */
export class FileSink implements ByteSink {
  readonly #path: string;
  readonly #file: number;

  constructor(path: string) {
    this.#path = path;
    this.#file = attempt(path, () => openSync(path, 'w'));
  }

  write(bytes: Uint8Array): void {
    this.#put(bytes, null);
  }

  rewrite(bytes: Uint8Array, position: number): void {
    this.#put(bytes, position);
  }

  close(): void {
    closeSync(this.#file);
  }

  #put(bytes: Uint8Array, position: number | null): void {
    attempt(this.#path, () => {
      for (let done = 0; done < bytes.length; ) {
        const at = position === null ? null : position + done;
        done += writeSync(this.#file, bytes, done, bytes.length - done, at);
      }
    });
  }
}

function attempt<T>(path: string, act: () => T): T {
  try {
    return act();
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    const says = code === 'ENOENT' ? 'there is no such file' : `cannot be used (${code})`;
    throw new OperatingError(`${path}: ${says}`);
  }
}
