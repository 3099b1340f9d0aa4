import type { EpochMicros } from '../../../shared/units.ts';

/** A record that was put aside: refused by its schema, by the judge or by the store. */
export interface Quarantined {
  sensor: string;
  /** The message's kind, or what of a batch it was: `wave`, `block`, `second` … */
  kind: string;
  boot: number | null;
  /** The sensor's number of it; null of what has none. */
  seq: number | null;
  /** The server's time. */
  atUs: EpochMicros;
  reason: string;
  /** The payload as it came, or the record as CBOR; cut at `limits.quarantineBytes`. */
  bytes: Uint8Array;
}

/** What was put aside, newest first; beyond `limits` the oldest goes, a sensor's own first. */
export interface QuarantineStore {
  list(limit: number): Quarantined[];
  /** How many there are. */
  count(): number;
}
