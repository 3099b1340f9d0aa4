import { limits } from '../limits.ts';
import type { Quarantined, QuarantineStore } from './quarantine.ts';

/** Records put aside, without a disk. */
export class MemoryQuarantine implements QuarantineStore {
  /** Oldest first. */
  #records: Quarantined[] = [];

  add(record: Quarantined): void {
    const bytes = record.bytes.slice(0, limits.quarantineBytes);
    this.#records.push({ ...record, bytes });
    const own = this.#records.filter(({ sensor }) => sensor === record.sensor);
    const [oldest] = own;
    if (own.length > limits.quarantinedOfSensor)
      this.#records = this.#records.filter((one) => one !== oldest);
    this.#records = this.#records.slice(-limits.quarantined);
  }

  list(limit: number): Quarantined[] {
    return structuredClone(this.#records.slice().reverse().slice(0, limit));
  }

  count(): number {
    return this.#records.length;
  }
}
