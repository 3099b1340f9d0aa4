import type { Clock, Link, Received, SentKind } from '../hal.ts';
import { type Fault, type FaultOf, faultHolds, pickFaults } from './faults.ts';

interface OnTheWay<Kind> {
  due: number;
  kind: Kind;
  bytes: Uint8Array;
}

/** Messages that a slow way may hold: a window of records and what is said beside them. */
const onTheWayMost = 256;

/** A way to the broker with faults. What it takes it may lose: that is what `keep` is for. */
export class FaultyLink implements Link {
  readonly #link: Link;
  readonly #clock: Clock;
  readonly #faults: readonly Fault[];
  readonly #restarts: Set<FaultOf<'broker-restart'>>;
  readonly #out: OnTheWay<SentKind>[] = [];
  readonly #in: OnTheWay<Received['kind']>[] = [];
  #session = 0;
  #last = 0;
  #inner = 0;
  #sent = 0;

  constructor(link: Link, clock: Clock, faults: readonly Fault[]) {
    this.#link = link;
    this.#clock = clock;
    this.#faults = faults;
    this.#restarts = new Set(pickFaults(faults, 'broker-restart'));
  }

  get session(): number {
    const now = this.#clock.monotonicMicros();
    const lost = this.#now(now, 'link-lost') !== undefined;
    let broke = lost || this.#link.session !== this.#inner;
    for (const fault of this.#restarts)
      if (now >= fault.from) {
        this.#restarts.delete(fault);
        broke = true;
      }
    if (broke) {
      this.#out.length = 0;
      this.#in.length = 0;
      this.#inner = this.#link.session;
      this.#session = lost || this.#inner === 0 ? 0 : ++this.#last;
    } else if (this.#session === 0 && this.#inner !== 0) this.#session = ++this.#last;
    this.#forward(now);
    return this.#session;
  }

  send(kind: SentKind, payload: Uint8Array, length: number): boolean {
    const now = this.#clock.monotonicMicros();
    if (this.session === 0 || this.#out.length >= onTheWayMost) return false;
    // A half-open connection takes everything and brings nothing.
    if (this.#now(now, 'link-half-open')) return true;
    const late = this.#now(now, 'link-slow')?.micros ?? 0;
    // Every second letter is overtaken by those after it.
    const overtaken = this.#now(now, 'link-reorder') && this.#sent++ % 2 === 0 ? 60_000 : 0;
    const letter = { due: now + late + overtaken, kind, bytes: payload.slice(0, length) };
    this.#out.push(letter);
    if (this.#now(now, 'link-duplicate')) this.#out.push(letter);
    this.#forward(now);
    return true;
  }

  receive(message: Received): boolean {
    const now = this.#clock.monotonicMicros();
    const late =
      (this.#now(now, 'link-slow')?.micros ?? 0) + (this.#now(now, 'server-slow')?.micros ?? 0);
    while (this.#in.length < onTheWayMost && this.#link.receive(message)) {
      if (this.#now(now, 'link-half-open')) continue;
      const bytes = message.bytes.slice(0, message.length);
      this.#in.push({ due: now + late, kind: message.kind, bytes });
    }
    if (!this.#in[0] || this.#in[0].due > now) return false;
    const next = this.#in.shift()!;
    message.kind = next.kind;
    message.bytes.set(next.bytes);
    message.length = next.bytes.length;
    return true;
  }

  #forward(now: number): void {
    for (let at = 0; at < this.#out.length; ) {
      const { due, kind, bytes } = this.#out[at]!;
      if (due > now) at++;
      else if (this.#link.send(kind, bytes, bytes.length)) this.#out.splice(at, 1);
      else return;
    }
  }

  #now<K extends 'link-lost' | 'link-slow' | 'link-duplicate' | LinkMore>(now: number, kind: K) {
    return pickFaults(this.#faults, kind).find((fault) => faultHolds(fault, now));
  }
}
type LinkMore = 'link-reorder' | 'link-half-open' | 'server-slow';
