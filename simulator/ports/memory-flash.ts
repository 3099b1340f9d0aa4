import { assert } from '../../shared/assert.ts';
import type { Flash } from '../hal.ts';

/** NOR flash in memory, as strict as a chip: bits only clear, a page is not left, wear counts. */
export class MemoryFlash implements Flash {
  readonly sectors: number;
  readonly sectorBytes: number;
  readonly pageBytes: number;
  readonly bytes: Uint8Array;
  /** Erases of each sector. */
  readonly wear: Uint32Array;

  constructor(sectors: number, sectorBytes = 65_536, pageBytes = 256) {
    this.sectors = sectors;
    this.sectorBytes = sectorBytes;
    this.pageBytes = pageBytes;
    this.bytes = new Uint8Array(sectors * sectorBytes).fill(0xff);
    this.wear = new Uint32Array(sectors);
  }

  read(address: number, into: Uint8Array, length: number): boolean {
    into.set(this.bytes.subarray(address, address + length));
    return true;
  }

  program(address: number, bytes: Uint8Array, from: number, length: number): boolean {
    const { pageBytes } = this;
    assert(length <= pageBytes - (address % pageBytes), 'a stretch keeps within a page');
    for (let n = 0; n < length; n++) {
      assert(this.bytes[address + n] === 0xff, 'a byte is programmed once between two erases');
      this.bytes[address + n] = bytes[from + n]!;
    }
    return true;
  }

  erase(sector: number): boolean {
    this.bytes.fill(0xff, sector * this.sectorBytes, (sector + 1) * this.sectorBytes);
    this.wear[sector] = this.wear[sector]! + 1;
    return true;
  }
}
