import { assert } from '../../shared/assert.ts';

/** Typed arrays after RFC 8746, little endian: tag and bytes an element. */
export const typedArray = {
  sint16: { tag: 77, bytes: 2 },
  sint32: { tag: 78, bytes: 4 },
  float32: { tag: 85, bytes: 4 },
  float64: { tag: 86, bytes: 8 },
} as const;

/**
 * Writes CBOR (RFC 8949) into one buffer of its own: definite lengths, shortest heads, nothing
 * allocated. Overflow is a programmer's error: the buffer is sized for the longest message.
 */
export class CborWriter {
  readonly bytes: Uint8Array;
  private readonly view: DataView;
  private readonly from: number;
  private at: number;

  /** `headroom` bytes stay free before the first item, for a record's head. */
  constructor(size: number, headroom = 0) {
    this.bytes = new Uint8Array(headroom + size);
    this.view = new DataView(this.bytes.buffer);
    this.from = headroom;
    this.at = headroom;
  }

  get length(): number {
    return this.at - this.from;
  }

  reset(): void {
    this.at = this.from;
  }

  map(entries: number): void {
    this.head(5, entries);
  }

  array(entries: number): void {
    this.head(4, entries);
  }

  /** ASCII only: its bytes are its UTF-8. */
  text(text: string): void {
    this.head(3, text.length);
    for (let n = 0; n < text.length; n++) this.byte(text.charCodeAt(n) & 0x7f);
  }

  /** A whole number of at most 53 bits, of either sign. */
  int(value: number): void {
    if (value < 0) this.head(1, -1 - value);
    else this.head(0, value);
  }

  bool(value: boolean): void {
    this.byte(value ? 0xf5 : 0xf4);
  }

  float64(value: number): void {
    this.byte(0xfb);
    this.room(8);
    this.view.setFloat64(this.at, value);
    this.at += 8;
  }

  /** An item that is encoded already. */
  raw(bytes: Uint8Array, from: number, length: number): void {
    this.room(length);
    for (let n = 0; n < length; n++) this.bytes[this.at + n] = bytes[from + n]!;
    this.at += length;
  }

  /** Key and whole number, the commonest entry of a map. */
  entry(key: string, value: number): void {
    this.text(key);
    this.int(value);
  }

  /** Opens a typed array; its elements must follow by `sint16` and the like. */
  typed(kind: { readonly tag: number; readonly bytes: number }, elements: number): void {
    this.head(6, kind.tag);
    this.head(2, elements * kind.bytes);
    this.room(elements * kind.bytes);
  }

  /** Elements of an open typed array, from `source[start]` on. */
  sint16(source: Int16Array, start: number, count: number): void {
    let at = this.at;
    for (let n = start; n < start + count; n++) {
      const value = source[n]!;
      this.bytes[at++] = value;
      this.bytes[at++] = value >> 8;
    }
    this.at = at;
  }

  sint32(source: Int32Array, start: number, count: number): void {
    for (let n = start; n < start + count; n++, this.at += 4)
      this.view.setInt32(this.at, source[n]!, true);
  }

  float32s(source: Float32Array, count: number): void {
    this.typed(typedArray.float32, count);
    for (let n = 0; n < count; n++, this.at += 4) this.view.setFloat32(this.at, source[n]!, true);
  }

  float64s(source: Float64Array, count: number): void {
    this.typed(typedArray.float64, count);
    for (let n = 0; n < count; n++, this.at += 8) this.view.setFloat64(this.at, source[n]!, true);
  }

  private head(major: number, value: number): void {
    assert(value >= 0 && Number.isSafeInteger(value), 'CBOR heads hold whole numbers');
    const type = major << 5;
    this.room(9);
    if (value < 24) {
      this.byte(type | value);
    } else if (value < 0x100) {
      this.byte(type | 24);
      this.byte(value);
    } else if (value < 0x10000) {
      this.byte(type | 25);
      this.view.setUint16(this.at, value);
      this.at += 2;
    } else if (value < 0x1_0000_0000) {
      this.byte(type | 26);
      this.view.setUint32(this.at, value);
      this.at += 4;
    } else {
      this.byte(type | 27);
      this.view.setUint32(this.at, Math.floor(value / 0x1_0000_0000));
      this.view.setUint32(this.at + 4, value % 0x1_0000_0000);
      this.at += 8;
    }
  }

  private byte(value: number): void {
    this.room(1);
    this.bytes[this.at++] = value;
  }

  private room(bytes: number): void {
    assert(this.at + bytes <= this.bytes.length, 'a message outgrew its buffer');
  }
}
