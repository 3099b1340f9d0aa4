import { closeSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { OperatingError } from '../command/outcome.ts';
import type { ByteSink } from '../recording/source.ts';

/** A file that appears under its name only when it is whole; until then it ends in `.part`. */
export class FileSink implements ByteSink {
  readonly #path: string;
  readonly #part: string;
  readonly #file: number;

  /** @throws OperatingError */
  constructor(path: string) {
    this.#path = path;
    this.#part = `${path}.part`;
    this.#file = this.#try(() => openSync(this.#part, 'w'));
  }

  write(bytes: Uint8Array): void {
    this.#put(bytes, null);
  }

  rewrite(bytes: Uint8Array, position: number): void {
    this.#put(bytes, position);
  }

  /** Closes the file and gives it its name. */
  keep(): void {
    closeSync(this.#file);
    this.#try(() => renameSync(this.#part, this.#path));
  }

  /** Closes the file and takes it away. */
  drop(): void {
    closeSync(this.#file);
    rmSync(this.#part, { force: true });
  }

  #put(bytes: Uint8Array, position: number | null): void {
    let done = 0;
    while (done < bytes.length) {
      const at = position === null ? null : position + done;
      done += this.#try(() => writeSync(this.#file, bytes, done, bytes.length - done, at));
    }
  }

  #try<T>(act: () => T): T {
    try {
      return act();
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code;
      const says =
        code === 'ENOENT' ? 'there is no such folder' : `cannot be written (${code ?? error})`;
      throw new OperatingError(`${this.#path}: ${says}`);
    }
  }
}
