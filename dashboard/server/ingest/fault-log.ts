import type { Refused } from '../../../shared/protocol/messages.ts';
import { limits } from '../limits.ts';

/**
 * Why a message came to nothing. `threw`: something in the house failed at it; `store`: the store
 * takes nothing; `commit`: a record that was stored with others failed, and was put aside.
 */
export type IngestFault =
  | Refused['fault']
  | 'topic'
  | 'unknown-sensor'
  | 'full'
  | 'threw'
  | 'store'
  | 'commit';

export interface Fault {
  fault: IngestFault;
  says: string;
}

/** Faults of one sensor, kind and sort since the start. */
export interface NamedFaults {
  sensor: string;
  kind: string;
  fault: IngestFault;
  count: number;
}

interface Known extends NamedFaults {
  saidMs: number;
  unsaid: number;
}

const others = 'others';

/**
 * Counts faults and says them: each sort of each sensor once a minute at the most, with how often
 * it came meanwhile, and of all no more lines a minute than a person reads. What a client sent is
 * in the line, so nothing in it may move a terminal's cursor.
 */
export class FaultLog {
  readonly counts: Partial<Record<IngestFault, number>> = {};
  readonly #known = new Map<string, Known>();
  readonly #say: (line: string) => void;
  readonly #clock: () => number;
  #minuteFromMs = Number.NEGATIVE_INFINITY;
  #lines = 0;

  constructor(say: (line: string) => void, clock: () => number = () => performance.now()) {
    this.#say = say;
    this.#clock = clock;
  }

  named(): NamedFaults[] {
    return [...this.#known.values()].map(({ sensor, kind, fault, count }) => ({
      ...{ sensor, kind, fault, count },
    }));
  }

  /** `quiet`: counted and not said. */
  note(sensor: string, kind: string, { fault, says }: Fault, quiet = false): void {
    this.counts[fault] = (this.counts[fault] ?? 0) + 1;
    const known = this.#of(sensor, kind, fault);
    known.count++;
    if (quiet) return;
    const nowMs = this.#clock();
    if (nowMs - known.saidMs < limits.faultSaidMs || !this.#mayBeSaid(nowMs)) {
      known.unsaid++;
      return;
    }
    const more = known.unsaid > 0 ? ` (and ${known.unsaid} more since it was last said)` : '';
    known.saidMs = nowMs;
    known.unsaid = 0;
    this.#say(`${oneLine(says)}${more}`);
  }

  #of(sensor: string, kind: string, fault: IngestFault): Known {
    const key = `${sensor} ${kind} ${fault}`;
    const known = this.#known.get(key);
    if (known) return known;
    if (this.#known.size >= limits.namedFaults && sensor !== others)
      return this.#of(others, others, fault);
    const fresh = { sensor, kind, fault, count: 0, saidMs: Number.NEGATIVE_INFINITY, unsaid: 0 };
    this.#known.set(key, fresh);
    return fresh;
  }

  #mayBeSaid(nowMs: number): boolean {
    if (nowMs - this.#minuteFromMs >= limits.faultSaidMs) {
      this.#minuteFromMs = nowMs;
      this.#lines = 0;
    }
    return this.#lines++ < limits.faultLines;
  }
}

const oneLine = (says: string) =>
  says.replace(/[\p{Cc}\p{Cf}]/gu, '?').slice(0, limits.faultLineLength);
