import type { EpochMicros } from '../../../shared/units.ts';

/** Who changes a plate, a circuit or a feeder, and when. */
export interface Stamp {
  atUs: EpochMicros;
  /** Null: nobody was signed in. */
  by: string | null;
}

/** One version of a plate, a circuit or a feeder; all are kept. */
export interface VersionRecord<Value> extends Stamp {
  version: number;
  value: Value;
}

export interface StockRecord<Value> extends VersionRecord<Value> {
  id: number;
  /** Hidden from choices; never deleted. */
  retired: boolean;
}

/** Plates, circuits or feeders: each with all versions that it ever had. */
export interface StockStore<Value> {
  list(): StockRecord<Value>[];
  one(id: number): StockRecord<Value> | null;
  add(value: Value, stamp: Stamp): StockRecord<Value>;
  /** Makes the next version; null when there is no such thing. The same again is none. */
  set(id: number, value: Value, stamp: Stamp): StockRecord<Value> | null;
  retire(id: number, retired: boolean): StockRecord<Value> | null;
  /** Newest first, those older than `before`. */
  versions(id: number, before: number, limit: number): VersionRecord<Value>[];
}
