import type { Socket } from 'node:net';

/**
 * Counts MQTT frames on their way in and cuts the connection at the fixed header of one that would
 * be too long, before any of its body is kept: the parser behind would wait for all of 256 MB.
 * (MQTT 3.1.1, 2.2.3: remaining length, seven bits a byte, four bytes at most.)
 */
export class FrameGuard {
  readonly #mostBytes: number;
  /** Bytes of the present frame's body still to come. */
  #body = 0;
  /** Bytes of its length field read so far; −1 before the packet type. */
  #lengthBytes = -1;
  #length = 0;

  constructor(mostBytes: number) {
    this.#mostBytes = mostBytes;
  }

  /** False when a frame in these bytes is too long or its length field is malformed. */
  takes(chunk: Uint8Array): boolean {
    let at = 0;
    while (at < chunk.length) {
      if (this.#body > 0) {
        const step = Math.min(this.#body, chunk.length - at);
        this.#body -= step;
        at += step;
      } else if (!this.#header(chunk[at++]!)) return false;
    }
    return true;
  }

  #header(byte: number): boolean {
    if (this.#lengthBytes < 0) {
      this.#lengthBytes = 0;
      this.#length = 0;
      return true;
    }
    this.#length += (byte & 0x7f) * 128 ** this.#lengthBytes++;
    if (this.#length > this.#mostBytes) return false;
    if (byte & 0x80) return this.#lengthBytes < 4;
    this.#body = this.#length;
    this.#lengthBytes = -1;
    return true;
  }
}

/**
 * Stands a guard before a socket's reader. The reader takes its bytes with `read`, so the check
 * costs a look at each header and no copy.
 */
export function guardSocket(socket: Socket, mostBytes: number, tooLong: () => void): void {
  const guard = new FrameGuard(mostBytes);
  const read = socket.read.bind(socket);
  socket.read = (size?: number) => {
    const chunk = read(size);
    if (chunk === null || guard.takes(chunk)) return chunk;
    tooLong();
    socket.destroy();
    return null;
  };
}
