/**
 * Reads the CBOR that a server sends a sensor (RFC 8949): maps with text keys, numbers, texts,
 * booleans; whatever else is stepped over. Nothing is allocated, nothing thrown: a message that
 * is cut or odd sets `failed`, and every number after it reads as NaN.
 */
export class CborReader {
  failed = false;
  /** Major type of the item last read, 0 to 7. */
  private major = 0;
  /** Its argument: a whole number, a count, a float's value. */
  private value = 0.5;
  private bytes: Uint8Array = new Uint8Array(0);
  private view: DataView = new DataView(this.bytes.buffer);
  private at = 0;
  private end = 0;
  private textFrom = 0;
  private textLength = 0;

  begin(bytes: Uint8Array, length: number): void {
    if (bytes !== this.bytes) {
      this.bytes = bytes;
      this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    }
    this.at = 0;
    this.end = length;
    this.failed = false;
  }

  /** Where the next item begins. */
  get position(): number {
    return this.at;
  }

  /** Opens a map and answers how many entries follow; 0 if it is none. */
  map(): number {
    this.item();
    if (!this.failed && this.major === 5 && this.value <= 64) return this.value;
    this.failed = true;
    return 0;
  }

  /** Reads a text, to be compared by `is`. */
  text(): void {
    this.item();
    if (this.major !== 3) this.failed = true;
  }

  /** Whether the text last read is this one. */
  is(text: string): boolean {
    if (this.failed || this.textLength !== text.length) return false;
    for (let n = 0; n < text.length; n++)
      if (this.bytes[this.textFrom + n] !== text.charCodeAt(n)) return false;
    return true;
  }

  /** A whole number or a float; true is 1 and false 0; NaN for all else. */
  number(): number {
    this.item();
    if (this.failed) return Number.NaN;
    if (this.major === 0 || this.major === 7) return this.value;
    if (this.major === 1) return -1 - this.value;
    this.step();
    return Number.NaN;
  }

  /** Steps over one item whole. */
  skip(): void {
    this.item();
    this.step();
  }

  /** Steps over what the item just read still holds; depth is bounded by the items left. */
  private step(): void {
    let left = this.within();
    while (left > 0 && !this.failed) {
      this.item();
      left += this.within() - 1;
    }
  }

  private within(): number {
    if (this.major === 4) return this.value;
    if (this.major === 5) return 2 * this.value;
    return this.major === 6 ? 1 : 0;
  }

  private item(): void {
    const first = this.take(1) ? this.bytes[this.at - 1]! : 0;
    this.major = first >> 5;
    const info = first & 31;
    if (info < 24) this.value = info;
    else if (info <= 27) this.argument(1 << (info - 24));
    else this.failed = true; // indefinite lengths are not sent
    if (this.major === 7) this.simple(info);
    if (this.major !== 2 && this.major !== 3) return;
    this.textFrom = this.at;
    this.textLength = this.value;
    this.take(this.value);
  }

  private argument(size: number): void {
    if (!this.take(size)) return;
    const at = this.at - size;
    if (size === 1) this.value = this.bytes[at]!;
    else if (size === 2) this.value = this.view.getUint16(at);
    else if (size === 4) this.value = this.view.getUint32(at);
    else this.value = this.view.getUint32(at) * 0x1_0000_0000 + this.view.getUint32(at + 4);
  }

  private simple(info: number): void {
    if (this.failed) return;
    if (info === 20 || info === 21) this.value = info - 20;
    else if (info === 25) this.value = half(this.view.getUint16(this.at - 2));
    else if (info === 26) this.value = this.view.getFloat32(this.at - 4);
    else if (info === 27) this.value = this.view.getFloat64(this.at - 8);
    else this.value = Number.NaN;
  }

  private take(bytes: number): boolean {
    if (this.failed || this.at + bytes > this.end) {
      this.failed = true;
      return false;
    }
    this.at += bytes;
    return true;
  }
}

function half(bits: number): number {
  const exponent = (bits >> 10) & 31;
  const mantissa = bits & 1023;
  const sign = bits & 0x8000 ? -1 : 1;
  if (exponent === 0) return sign * mantissa * 2 ** -24;
  if (exponent === 31) return mantissa ? Number.NaN : sign * Number.POSITIVE_INFINITY;
  return sign * (1024 + mantissa) * 2 ** (exponent - 25);
}
