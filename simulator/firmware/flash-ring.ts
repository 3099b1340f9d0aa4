import { assert } from '../../shared/assert.ts';
import type { Flash } from '../hal.ts';
import { crc32 } from './crc32.ts';
import { flashTries } from './limits.ts';

/** A sector's head: mark, its number in the order of opening, first seq to come, kept, CRC. */
const sectorHead = 40;
const sectorMark = 0x52465353;
/** A record's head: mark, kind, length, seq, CRC of the payload, CRC of the head. */
export const recordHead = 24;
const recordMark = 0x4352;
/** Records begin on eight bytes: no byte of flash is programmed twice between two erases. */
const align = 8;

/**
 * Numbered records in a ring of flash sectors, oldest overwritten first, so every sector is erased
 * equally often. A record counts once its checksums hold: power may fail at any write.
 *
 * A sector is opened by an erase and a head that carries the numbers on, so seq never goes back,
 * not even when no record is left. Records never straddle sectors. What cannot be read to its
 * end (a torn write) closes its sector.
 */
export class FlashRing {
  /** Seq of the last record written; 0 if there is none yet. */
  newest = 0.0;
  /** Everything up to here may be overwritten unasked. */
  kept = 0.0;
  /** Records overwritten or refused although nobody had them. */
  dropped = 0;
  errors = 0;
  private readonly flash: Flash;
  private readonly first: number;
  private readonly count: number;
  /** For each sector: seq of its first record (or of the one to come); 0 where not in use. */
  private readonly firstSeq: Float64Array;
  /** Number of each sector in the order of opening; 0 where not in use. */
  private readonly order: Float64Array;
  private head = -1;
  private tail = 0;
  private opened = 0.0;
  // The reading cursor: the record that `next` gives is the one of this seq.
  private cursorSeq = 0.0;
  private cursorSector = -1;
  private cursorAt = 0;
  private readonly scratch = new Uint8Array(sectorHead);
  private readonly view = new DataView(this.scratch.buffer);
  /** Kind of the record that `next` gave. */
  recordKind = 0;
  private recordSeq = 0.0;
  private recordLength = 0;
  private recordCrc = 0;

  /** The ring has sectors `first` to `first + count - 1`; `open` reads what they hold. */
  constructor(flash: Flash, first: number, count: number) {
    assert(count >= 2 && first + count <= flash.sectors, 'a ring needs two sectors that exist');
    this.flash = flash;
    this.first = first;
    this.count = count;
    this.firstSeq = new Float64Array(count);
    this.order = new Float64Array(count);
  }

  /** Finds the last record after power-on. A blank ring numbers its records from `start`. */
  open(start: number): void {
    for (let sector = 0; sector < this.count; sector++) {
      this.readSectorHead(sector);
      if (this.order[sector]! <= this.opened) continue;
      this.opened = this.order[sector]!;
      this.head = sector;
    }
    if (this.head < 0) {
      this.newest = start - 1;
      this.kept = this.newest;
      return;
    }
    this.newest = this.firstSeq[this.head]! - 1;
    this.tail = sectorHead;
    // A record whose payload was torn has its number all the same: no number is given twice.
    while (this.readRecordHead(this.head, this.tail)) {
      this.newest = this.recordSeq;
      this.tail += stride(this.recordLength);
    }
    if (!this.blankFrom(this.head, this.tail)) this.tail = this.flash.sectorBytes;
    this.kept = Math.min(this.kept, this.newest);
  }

  /** Seq of the oldest record that can still be read; `newest + 1` if there is none. */
  get oldest(): number {
    let oldest = this.newest + 1;
    for (let sector = 0; sector < this.count; sector++)
      if (this.order[sector]! > 0 && this.firstSeq[sector]! < oldest)
        oldest = this.firstSeq[sector]!;
    return oldest;
  }

  /**
   * Writes a record whose payload stands in `bytes[recordHead..recordHead+length)`; the head's
   * bytes before it are filled in here. Answers false where no sector would take it.
   */
  append(kind: number, bytes: Uint8Array, length: number): boolean {
    assert(stride(length) <= this.flash.sectorBytes - sectorHead, 'a record fits a sector');
    for (let attempt = 0; attempt < flashTries; attempt++) {
      if (this.head < 0 || this.tail + stride(length) > this.flash.sectorBytes) {
        if (!this.openSector()) continue;
      }
      const seq = this.newest + 1;
      const view = this.view;
      view.setUint16(0, recordMark, true);
      view.setUint16(2, kind, true);
      view.setUint32(4, length, true);
      view.setFloat64(8, seq, true);
      view.setUint32(16, crc32(bytes, recordHead, length), true);
      view.setUint32(20, crc32(this.scratch, 0, 20), true);
      for (let n = 0; n < recordHead; n++) bytes[n] = this.scratch[n]!;
      if (this.program(this.head, this.tail, bytes, recordHead + length)) {
        this.tail += stride(length);
        this.newest = seq;
        return true;
      }
      this.errors++;
      this.tail = this.flash.sectorBytes; // what failed half-way must not be written over
    }
    this.dropped++;
    return false;
  }

  /** Puts the cursor on the first record that is not older than `seq`. */
  seek(seq: number): void {
    this.cursorSeq = seq;
    this.cursorSector = -1;
  }

  /** Seq of the record that `next` would give. */
  get cursor(): number {
    return this.cursorSeq;
  }

  /**
   * Reads the record at the cursor into `into` and steps on. Answers its length, 0 at the end, -1
   * where the record is spoiled: it is stepped over, and counted.
   */
  next(into: Uint8Array): number {
    this.cursorSeq = Math.max(this.cursorSeq, this.oldest);
    if (this.cursorSeq > this.newest) return 0;
    const sound = this.settle() && this.payloadHolds(this.cursorSector, this.cursorAt, into);
    this.cursorSeq++;
    if (sound) return this.recordLength;
    this.errors++;
    return -1;
  }

  /** Steps back over a record that could not be used now. */
  unread(): void {
    this.cursorSeq--;
    this.cursorSector = -1;
  }

  /** Finds the head of the cursor's record: in the sector opened last that may hold it. */
  private settle(): boolean {
    let best = -1;
    for (let sector = 0; sector < this.count; sector++) {
      const usable = this.order[sector]! > 0 && this.firstSeq[sector]! <= this.cursorSeq;
      if (usable && (best < 0 || this.order[sector]! > this.order[best]!)) best = sector;
    }
    if (best < 0) return false;
    if (best !== this.cursorSector) {
      this.cursorSector = best;
      this.cursorAt = sectorHead;
    }
    while (this.readRecordHead(best, this.cursorAt)) {
      if (this.recordSeq >= this.cursorSeq) return this.recordSeq === this.cursorSeq;
      this.cursorAt += stride(this.recordLength);
    }
    return false;
  }

  private openSector(): boolean {
    const sector = (this.head + 1) % this.count;
    this.give(sector);
    // The head moves on even where the sector is bad: the next try takes the one after it.
    this.head = sector;
    this.tail = this.flash.sectorBytes;
    this.opened++;
    if (!this.flash.erase(this.first + sector)) {
      this.errors++;
      return false;
    }
    const view = this.view;
    view.setUint32(0, sectorMark, true);
    view.setUint32(4, 0, true);
    view.setFloat64(8, this.opened, true);
    view.setFloat64(16, this.newest + 1, true);
    view.setFloat64(24, this.kept, true);
    view.setUint32(32, crc32(this.scratch, 0, 32), true);
    view.setUint32(36, 0xffffffff, true);
    if (!this.program(sector, 0, this.scratch, sectorHead)) {
      this.errors++;
      return false;
    }
    this.order[sector] = this.opened;
    this.firstSeq[sector] = this.newest + 1;
    this.tail = sectorHead;
    return true;
  }

  /** The sector's records go; those that nobody had are counted. */
  private give(sector: number): void {
    if (this.order[sector] === 0) return;
    const from = this.firstSeq[sector]!;
    this.order[sector] = 0;
    const upTo = Math.min(this.oldest, this.newest + 1);
    this.dropped += Math.max(0, upTo - Math.max(from, this.kept + 1));
  }

  private readSectorHead(sector: number): void {
    const address = (this.first + sector) * this.flash.sectorBytes;
    this.order[sector] = 0;
    if (!this.flash.read(address, this.scratch, sectorHead)) return;
    const view = this.view;
    if (view.getUint32(0, true) !== sectorMark) return;
    if (view.getUint32(32, true) !== crc32(this.scratch, 0, 32)) return;
    this.order[sector] = view.getFloat64(8, true);
    this.firstSeq[sector] = view.getFloat64(16, true);
    this.kept = Math.max(this.kept, view.getFloat64(24, true));
  }

  private readRecordHead(sector: number, at: number): boolean {
    if (at + recordHead > this.flash.sectorBytes) return false;
    const address = (this.first + sector) * this.flash.sectorBytes + at;
    if (!this.flash.read(address, this.scratch, recordHead)) return false;
    const view = this.view;
    if (view.getUint16(0, true) !== recordMark) return false;
    if (view.getUint32(20, true) !== crc32(this.scratch, 0, 20)) return false;
    this.recordKind = view.getUint16(2, true);
    this.recordLength = view.getUint32(4, true);
    this.recordSeq = view.getFloat64(8, true);
    this.recordCrc = view.getUint32(16, true);
    return at + stride(this.recordLength) <= this.flash.sectorBytes;
  }

  private payloadHolds(sector: number, at: number, into: Uint8Array): boolean {
    const address = (this.first + sector) * this.flash.sectorBytes + at + recordHead;
    if (this.recordLength > into.length) return false;
    if (!this.flash.read(address, into, this.recordLength)) return false;
    return crc32(into, 0, this.recordLength) === this.recordCrc;
  }

  private blankFrom(sector: number, at: number): boolean {
    const base = (this.first + sector) * this.flash.sectorBytes;
    for (let from = at; from < this.flash.sectorBytes; from += sectorHead) {
      const length = Math.min(sectorHead, this.flash.sectorBytes - from);
      if (!this.flash.read(base + from, this.scratch, length)) return false;
      for (let n = 0; n < length; n++) if (this.scratch[n] !== 0xff) return false;
    }
    return true;
  }

  /** Programs page by page: a stretch keeps within one. */
  private program(sector: number, at: number, bytes: Uint8Array, length: number): boolean {
    const base = (this.first + sector) * this.flash.sectorBytes;
    const page = this.flash.pageBytes;
    for (let done = 0; done < length; ) {
      const address = base + at + done;
      const part = Math.min(length - done, page - (address % page));
      if (!this.flash.program(address, bytes, done, part)) return false;
      done += part;
    }
    return true;
  }
}

function stride(length: number): number {
  return Math.ceil((recordHead + length) / align) * align;
}
