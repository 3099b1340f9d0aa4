import {
  closeSync,
  constants,
  fdatasyncSync,
  fstatSync,
  ftruncateSync,
  openSync,
  readSync,
  writeSync,
} from 'node:fs';
import { OperatingError } from '../../shared/command/outcome.ts';
import type { Flash } from '../hal.ts';

/**
 * Flash in a file, its bytes inverted, so that a fresh sparse file is erased flash. With `sync`
 * each program is on disk when it returns, as a chip's is; without, it survives the program's
 * end but not the host's: that is what a demonstration is worth.
 */
export class FileFlash implements Flash {
  readonly sectors: number;
  readonly sectorBytes = 65_536;
  readonly pageBytes = 256;
  readonly #file: number;
  readonly #sync: boolean;
  readonly #page = new Uint8Array(this.pageBytes);
  readonly #blank = new Uint8Array(this.sectorBytes);

  /** @throws OperatingError where the file cannot be opened or has another size. */
  constructor(path: string, sectors: number, sync = true) {
    this.sectors = sectors;
    this.#sync = sync;
    try {
      this.#file = openSync(path, constants.O_RDWR | constants.O_CREAT, 0o600);
      if (fstatSync(this.#file).size === 0) ftruncateSync(this.#file, sectors * this.sectorBytes);
    } catch (error) {
      throw new OperatingError(`${path}: ${error instanceof Error ? error.message : error}`);
    }
    const { size } = fstatSync(this.#file);
    if (size !== sectors * this.sectorBytes)
      throw new OperatingError(
        `${path}: a flash of ${sectors * this.sectorBytes} bytes is needed, this has ${size}`,
      );
  }

  read(address: number, into: Uint8Array, length: number): boolean {
    try {
      if (readSync(this.#file, into, 0, length, address) !== length) return false;
    } catch {
      return false;
    }
    for (let n = 0; n < length; n++) into[n] = ~into[n]!;
    return true;
  }

  program(address: number, bytes: Uint8Array, from: number, length: number): boolean {
    for (let n = 0; n < length; n++) this.#page[n] = ~bytes[from + n]!;
    return this.#write(this.#page, length, address);
  }

  erase(sector: number): boolean {
    return this.#write(this.#blank, this.sectorBytes, sector * this.sectorBytes);
  }

  close(): void {
    closeSync(this.#file);
  }

  #write(bytes: Uint8Array, length: number, address: number): boolean {
    try {
      if (writeSync(this.#file, bytes, 0, length, address) !== length) return false;
      if (this.#sync) fdatasyncSync(this.#file);
      return true;
    } catch {
      return false;
    }
  }
}
