import { limits } from '../limits.ts';

/** Holds the place of a number whose message is no good: what comes after it need not wait. */
export interface SetAside {
  seq: number;
  aside: true;
}

/** Gives numbered messages on in order, each once, whatever order and copies they came in. */
export class InOrder<Message extends { seq: number }> {
  /** All up to here were given on. */
  through: number;
  readonly #waiting = new Map<number, Message>();

  constructor(through: number) {
    this.through = through;
  }

  get waiting(): number {
    return this.#waiting.size;
  }

  /** `known`: it was there; `full`: too many wait for an earlier one, it must be sent again. */
  take(message: Message): 'taken' | 'known' | 'full' {
    if (message.seq <= this.through || this.#waiting.has(message.seq)) return 'known';
    if (this.#waiting.size >= limits.reorder && message.seq !== this.through + 1) return 'full';
    this.#waiting.set(message.seq, message);
    return 'taken';
  }

  /** The next in order, or undefined while it is missing. */
  next(): Message | undefined {
    const message = this.#waiting.get(this.through + 1);
    if (message) {
      this.through++;
      this.#waiting.delete(this.through);
    }
    return message;
  }

  /** The sender has nothing before `oldest` any more. Whether that moved us on. */
  skipTo(oldest: number): boolean {
    if (oldest <= this.through + 1) return false;
    this.through = oldest - 1;
    for (const seq of this.#waiting.keys()) if (seq < oldest) this.#waiting.delete(seq);
    return true;
  }

  /** The sender counts anew. */
  restart(through: number): void {
    this.through = through;
    this.#waiting.clear();
  }
}
