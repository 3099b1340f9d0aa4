import type { KeptFeeder } from '../../../shared/protocol/feeder.ts';
import type { StoredFeeder } from '../../../shared/protocol/http-plan.ts';
import type { FeederStore } from './feeder-store.ts';

/** Feeders without a disk. */
export class MemoryFeeders implements FeederStore {
  #feeders = new Map<number, KeptFeeder>();
  #last = 0;

  list(): StoredFeeder[] {
    return structuredClone([...this.#feeders].map(([id, feeder]) => ({ id, feeder })));
  }

  add(feeder: KeptFeeder): StoredFeeder {
    this.#feeders.set(++this.#last, structuredClone(feeder));
    return { id: this.#last, feeder };
  }

  set(id: number, feeder: KeptFeeder): boolean {
    if (!this.#feeders.has(id)) return false;
    this.#feeders.set(id, structuredClone(feeder));
    return true;
  }

  remove(id: number): boolean {
    return this.#feeders.delete(id);
  }
}
