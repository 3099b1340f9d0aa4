import type { KeptFeeder } from '../../../shared/protocol/feeder.ts';
import type { StoredFeeder } from '../../../shared/protocol/http-plan.ts';

/** The shop's feeders. A few dozen at most: read whole, and no versions are kept of them. */
export interface FeederStore {
  list(): StoredFeeder[];
  add(feeder: KeptFeeder): StoredFeeder;
  /** False when there is no such feeder; the same of `remove`. */
  set(id: number, feeder: KeptFeeder): boolean;
  remove(id: number): boolean;
}
