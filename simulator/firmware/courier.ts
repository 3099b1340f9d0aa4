import type { Link, Received, SentKind } from '../hal.ts';
import type { FlashRing } from './flash-ring.ts';
import {
  keepWaitMs,
  receivedPerTick,
  resendAskedMs,
  resendMs,
  sendsPerTick,
  windowRecords,
} from './limits.ts';
import { recordKind } from './recorder.ts';
import { type LinkEvent, type LinkState, linkTable } from './states.ts';

/** Who the courier works for: greets, hears questions. */
export interface CourierCalls {
  /** Sends about and state; false where the link would not take them yet. */
  greet(): boolean;
  /** A question of the server. */
  asked(message: Received): void;
  /** Reads a keep: its seq, or NaN where it is no sense. */
  readKeep(message: Received): number;
}

/**
 * Brings records from flash to the server, in order, at most a window ahead of what the server has
 * said it keeps. A broker's word is no proof of storage: only `keep` moves the window. Without one
 * in time, all from the last keep on is sent again; the server knows a record by its seq.
 */
export class Courier {
  state: LinkState = 'down';
  retries = 0;
  resends = 0;
  oddKeeps = 0;
  private readonly link: Link;
  private readonly ring: FlashRing;
  private readonly calls: CourierCalls;
  private readonly payload: Uint8Array;
  private readonly message: Received;
  /** Records that could not be read back, up to which the stream has a hole. */
  private hole = 0;
  private floor = 0;
  private session = 0;
  private greetedAt = 0.5;
  /** When the server last moved on, or there was last nothing to wait for. */
  private progressAt = 0.5;
  private askedAt = Number.NEGATIVE_INFINITY;
  /** When the oldest record that still waits for a keep was sent, or the last keep came. */
  private waitingSince = 0.5;
  /** Slowest answer of late: a server that is slow must not be made slower by resending. */
  private slowest = 0.5;
  private patience: number = resendMs.least * 1_000;

  constructor(
    link: Link,
    ring: FlashRing,
    calls: CourierCalls,
    message: Received,
    longest: number,
  ) {
    this.payload = new Uint8Array(longest);
    this.link = link;
    this.ring = ring;
    this.calls = calls;
    this.message = message;
    ring.seek(ring.kept + 1);
  }

  /** Whether the server has all that was recorded. */
  get delivered(): boolean {
    return this.ring.kept >= this.ring.newest;
  }

  /**
   * Seq of the first record that the server may still wait for. A record that cannot be read is
   * like one that was overwritten: once the server has all before it, it is told not to wait.
   */
  get oldest(): number {
    return Math.max(this.ring.oldest, this.floor);
  }

  tick(now: number): void {
    this.follow();
    for (let n = 0; n < receivedPerTick && this.link.receive(this.message); n++) {
      if (this.message.kind === 'keep') this.keep(this.calls.readKeep(this.message), now);
      else this.calls.asked(this.message);
    }
    if (this.state === 'greeting' && this.calls.greet()) {
      this.greetedAt = now;
      this.step('greeted', now);
    }
    if (this.state === 'waiting' && now - this.greetedAt > keepWaitMs * 1_000)
      this.step('late', now);
    if (this.state !== 'sending') return;
    if (this.ring.cursor <= this.ring.kept + 1) {
      this.progressAt = now;
      this.waitingSince = now;
    } else if (now - this.progressAt > this.patience) {
      this.patience = Math.min(2 * this.patience, resendMs.most * 1_000);
      this.resends++;
      this.step('late', now);
    }
    this.pump();
  }

  private follow(): void {
    const { session } = this.link;
    if (session === this.session) return;
    if (this.session !== 0) this.step('broke', 0);
    this.session = session;
    if (session === 0) return;
    if (session > 1) this.retries++;
    this.step('connected', 0);
  }

  private step(event: LinkEvent, now: number): void {
    const { to, act } = linkTable[this.state][event];
    this.state = to;
    if (act !== 'rewind') return;
    this.ring.seek(this.ring.kept + 1);
    this.progressAt = now;
  }

  private keep(seq: number, now: number): void {
    const { ring } = this;
    if (Number.isNaN(seq)) return;
    // A keep for what was never sent is another sensor's, or a confused server's.
    if (seq > ring.newest) {
      this.oddKeeps++;
      return;
    }
    if (seq > ring.kept) {
      ring.kept = seq;
      this.slowest = Math.max(this.slowest * 0.9, now - this.waitingSince);
      this.patience = Math.min(
        Math.max(resendMs.least * 1_000, 4 * this.slowest),
        resendMs.most * 1_000,
      );
      this.progressAt = now;
      this.waitingSince = now;
      if (ring.cursor <= seq) ring.seek(seq + 1);
      if (this.hole === seq + 1) this.spoiled(this.hole);
    } else if (this.state === 'sending' && this.asks(seq, now)) {
      ring.kept = seq;
      this.floor = 0;
      this.resends++;
      this.step('late', now);
    }
    this.step('keep', now);
  }

  /**
   * Whether a keep that brings nothing new asks for a resend: it went back, or it has stood for a
   * while though more was sent. A storm of such is answered once a second.
   */
  private asks(seq: number, now: number): boolean {
    const { kept, cursor } = this.ring;
    const stands = cursor > kept + 1 && now - this.progressAt >= resendAskedMs * 1_000;
    if (seq === kept && !stands) return false;
    if (now - this.askedAt < resendAskedMs * 1_000) return false;
    this.askedAt = now;
    return true;
  }

  private spoiled(seq: number): void {
    if (seq > this.hole) this.ring.dropped++;
    this.hole = Math.max(this.hole, seq);
    // Holes side by side are passed in one.
    if (this.ring.kept < seq - 1) return;
    this.ring.kept = Math.max(this.ring.kept, seq);
    this.floor = seq + 1;
  }

  private pump(): void {
    const { ring } = this;
    for (let n = 0; n < sendsPerTick && ring.cursor <= ring.kept + windowRecords; n++) {
      const length = ring.next(this.payload);
      if (length === 0) return;
      if (length < 0) {
        this.spoiled(ring.cursor - 1);
        continue;
      }
      const kind: SentKind = ring.recordKind === recordKind.arc ? 'arc' : 'wave';
      if (this.link.send(kind, this.payload, length)) continue;
      ring.unread();
      return;
    }
  }
}
