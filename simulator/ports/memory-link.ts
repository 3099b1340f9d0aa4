import type { Link, Received, SentKind } from '../hal.ts';

export interface Letter {
  kind: SentKind;
  bytes: Uint8Array;
}

/** Messages that a direction holds; a slow reader must make the sensor wait, not grow. */
const heldMost = 64;

/** A link whose far end is held by a test or by a server in the same process. */
export class MemoryLink implements Link {
  session = 0;
  #last = 0;
  readonly #out: Letter[] = [];
  readonly #in: { kind: Received['kind']; bytes: Uint8Array }[] = [];

  connect(): void {
    this.session = ++this.#last;
  }

  /** Breaks the connection: what is on its way either way is gone. */
  disconnect(): void {
    this.session = 0;
    this.#out.length = 0;
    this.#in.length = 0;
  }

  send(kind: SentKind, payload: Uint8Array, length: number): boolean {
    if (this.session === 0 || this.#out.length >= heldMost) return false;
    this.#out.push({ kind, bytes: payload.slice(0, length) });
    return true;
  }

  receive(message: Received): boolean {
    const next = this.#in.shift();
    if (!next || next.bytes.length > message.bytes.length) return false;
    message.kind = next.kind;
    message.bytes.set(next.bytes);
    message.length = next.bytes.length;
    return true;
  }

  /** The far end: takes the next letter. */
  take(): Letter | undefined {
    return this.#out.shift();
  }

  /** The far end: sends to the sensor; false where the link holds too many or is down. */
  tell(kind: Received['kind'], bytes: Uint8Array): boolean {
    if (this.session === 0 || this.#in.length >= heldMost) return false;
    this.#in.push({ kind, bytes });
    return true;
  }
}
