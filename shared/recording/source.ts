/** Bytes with random access: a file, a part of one, or an array. Synchronous. */
export interface ByteSource {
  readonly size: number;
  /** Fills `into` from `position` on; answers how many bytes it gave (fewer only at the end). */
  read(into: Uint8Array, position: number): number;
}

/** Where a writer puts its bytes. */
export interface ByteSink {
  write(bytes: Uint8Array): void;
  /** Overwrites bytes already written: a header learns its lengths at the end. */
  rewrite(bytes: Uint8Array, position: number): void;
}

/** A stretch of another source. */
export class SourcePart implements ByteSource {
  readonly size: number;
  readonly #whole: ByteSource;
  readonly #from: number;

  constructor(whole: ByteSource, from: number, size: number) {
    this.#whole = whole;
    this.#from = from;
    this.size = Math.max(0, Math.min(size, whole.size - from));
  }

  read(into: Uint8Array, position: number): number {
    const there = Math.max(0, Math.min(into.length, this.size - position));
    if (there === 0) return 0;
    return this.#whole.read(into.subarray(0, there), this.#from + position);
  }
}

/** Bytes in memory as a source. */
export class ArraySource implements ByteSource {
  readonly size: number;
  readonly #bytes: Uint8Array;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
    this.size = bytes.length;
  }

  read(into: Uint8Array, position: number): number {
    const part = this.#bytes.subarray(position, position + into.length);
    into.set(part);
    return part.length;
  }
}
