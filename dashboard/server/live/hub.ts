import { randomUUID } from 'node:crypto';
import type { ArcSummary, Sensor } from '../../../shared/protocol/http.ts';
import { beatMs, type LiveMessage, liveVersion } from '../../../shared/protocol/live.ts';
import { encodeRows, joinRows, type LiveRows } from '../../../shared/protocol/live-rows.ts';
import { limits } from '../limits.ts';

/** A page's socket, as much of it as the hub needs; `ws` has it. */
export interface PageSocket {
  readonly bufferedAmount: number;
  send(data: Uint8Array | string, options: { binary: boolean }): void;
  close(code: number, reason: string): void;
  terminate(): void;
}

/** A message without its serial. */
export type Unnumbered = LiveMessage extends infer Message
  ? Message extends LiveMessage
    ? Omit<Message, 'serial'>
    : never
  : never;

/**
 * The live feed to all pages. A frame is encoded once for all of them, and the rows of all sensors
 * wait `limits.rowsAfterMs` for each other: a socket's write costs more than what is written. A
 * message takes the rows before it along, so that nothing overtakes. A page that lags gets no rows,
 * and is told how many frames it missed; one that lags further is cut, since a verdict that comes
 * late is worse than a reconnect with the state anew.
 */
export class Hub {
  readonly #server = randomUUID();
  readonly #snapshot: () => { sensors: Sensor[]; arcs: ArcSummary[] };
  readonly #clock: () => number;
  readonly #pages = new Map<PageSocket, { leftOut: number }>();
  #serial = 0;
  /** Rows for the next frame. */
  #parts: Uint8Array<ArrayBuffer>[] = [];
  #partsTimer: NodeJS.Timeout | null = null;
  #beat: NodeJS.Timeout | null = null;
  readonly counts = { frames: 0, leftOut: 0, cut: 0 };

  constructor(
    snapshot: () => { sensors: Sensor[]; arcs: ArcSummary[] },
    clock: () => number = Date.now,
  ) {
    this.#snapshot = snapshot;
    this.#clock = clock;
  }

  get pages(): number {
    return this.#pages.size;
  }

  start(): void {
    this.#beat ??= setInterval(() => this.tell({ kind: 'beat', nowMs: this.#clock() }), beatMs);
  }

  /** Lets a page in with the whole state; false when the house is full. */
  enter(page: PageSocket): boolean {
    this.#flush();
    if (this.#pages.size >= limits.pages) {
      page.close(1013, 'too many pages');
      return false;
    }
    const hello: LiveMessage = {
      kind: 'hello',
      serial: this.#serial,
      version: liveVersion,
      server: this.#server,
      nowMs: this.#clock(),
      ...this.#snapshot(),
    };
    page.send(JSON.stringify(hello), { binary: false });
    this.#pages.set(page, { leftOut: 0 });
    return true;
  }

  leave(page: PageSocket): void {
    this.#pages.delete(page);
  }

  /** What no page may miss. */
  tell(message: Unnumbered): void {
    this.#flush();
    const serial = ++this.#serial;
    if (this.#pages.size === 0) return;
    const text = Buffer.from(JSON.stringify({ ...message, serial }));
    for (const [page, state] of this.#pages) {
      if (page.bufferedAmount > limits.pageCutBytes) {
        this.#cut(page);
        continue;
      }
      if (state.leftOut > 0 && page.bufferedAmount <= limits.pageRowsBytes) {
        const missed: LiveMessage = { kind: 'left-out', serial: serial - 1, frames: state.leftOut };
        page.send(JSON.stringify(missed), { binary: false });
        state.leftOut = 0;
      }
      this.counts.frames++;
      page.send(text, { binary: false });
    }
  }

  /** One sensor's rows for the next frame; where nobody looks, for none. */
  rows(rows: LiveRows): void {
    if (this.#pages.size === 0) return;
    this.#parts.push(encodeRows(rows));
    this.#partsTimer ??= setTimeout(() => this.#flush(), limits.rowsAfterMs);
  }

  stop(): void {
    if (this.#beat) clearInterval(this.#beat);
    this.#beat = null;
    this.#flush();
    for (const page of this.#pages.keys()) page.close(1001, 'the server stops');
    this.#pages.clear();
  }

  #flush(): void {
    if (this.#partsTimer) clearTimeout(this.#partsTimer);
    this.#partsTimer = null;
    if (this.#parts.length === 0) return;
    const frame = joinRows(++this.#serial, this.#parts);
    this.#parts = [];
    for (const [page, state] of this.#pages) {
      if (page.bufferedAmount > limits.pageRowsBytes) {
        state.leftOut++;
        this.counts.leftOut++;
        continue;
      }
      this.counts.frames++;
      page.send(frame, { binary: true });
    }
  }

  #cut(page: PageSocket): void {
    this.counts.cut++;
    this.#pages.delete(page);
    page.terminate();
  }
}
