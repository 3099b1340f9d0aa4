import { toWire } from '../../../shared/protocol/wire.ts';
import type { Quarantined } from '../store/quarantine.ts';
import type { ArcRecord, Batch, Store } from '../store/store.ts';
import { errorSays, isStoreFault } from '../store/store-fault.ts';
import { emptyBatch, type RecordKey, soundBatch } from './batch.ts';
import { findBad } from './halving.ts';

type Part = { [Of in RecordKey]: { key: Of; record: Batch[Of][number] } }[RecordKey];

/** What a part is called in the list of what was put aside. */
const called: Record<RecordKey, string> = {
  blocks: 'block',
  rows: 'half-cycles',
  seconds: 'second',
  arcs: 'judged-arc',
  sags: 'sag',
  supplies: 'supply',
  otherLoads: 'other-load',
  cursors: 'cursor',
};

/** All on disk, but for what was put aside; or nothing, because the store takes nothing. */
export type Stored = { arcs: ArcRecord[]; aside: Quarantined[] } | { broken: string };

/**
 * Stores a batch in one transaction. Where that fails, the records at fault are found by halving
 * and put aside, and the rest is stored with them, in one transaction again: sensors are told of
 * all of it or of nothing.
 *
 * A record is only to blame if the store takes another of its kind that is known to be sound; else,
 * and when no record fails by itself (a disk that is full tells so when it is to keep something),
 * the store is broken, and nothing is put aside.
 */
export function storeBatch(store: Store, batch: Batch, atUs: number): Stored {
  try {
    return { arcs: store.commit(batch), aside: [] };
  } catch (error) {
    return isStoreFault(error) ? { broken: errorSays(error) } : storeRest(store, batch, atUs);
  }
}

function storeRest(store: Store, batch: Batch, atUs: number): Stored {
  const parts = partsOf(batch);
  /** Why each part failed that was tried by itself. */
  const why = new Map<Part, unknown>();
  const holds = (some: readonly Part[]) => {
    try {
      store.rehearse(batchOf(some));
      return true;
    } catch (error) {
      if (isStoreFault(error)) throw error;
      const last = some.at(-1);
      if (last) why.set(last, error);
      return false;
    }
  };
  try {
    const bad = findBad(parts, holds);
    for (const { key, record } of bad) store.rehearse(soundBatch(key, record.sensor));
    const blamed = new Set(bad);
    const rest = batchOf(parts.filter((part) => !blamed.has(part)));
    const aside = bad.map((part) => asQuarantined(part, errorSays(why.get(part)), atUs));
    rest.quarantined = [...batch.quarantined, ...aside];
    return { arcs: store.commit(rest), aside };
  } catch (error) {
    return { broken: errorSays(error) };
  }
}

function partsOf(batch: Batch): Part[] {
  const keys = Object.keys(called) as RecordKey[];
  return keys.flatMap((key) => batch[key].map((record) => ({ key, record }) as Part));
}

function batchOf(parts: readonly Part[]): Batch {
  const batch = emptyBatch();
  for (const { key, record } of parts) (batch[key] as unknown[]).push(record);
  return batch;
}

function asQuarantined({ key, record }: Part, reason: string, atUs: number): Quarantined {
  return {
    sensor: record.sensor,
    kind: called[key],
    boot: 'boot' in record ? wholeOrNull(record.boot) : null,
    seq: 'seq' in record ? wholeOrNull(record.seq) : null,
    ...{ atUs, reason, bytes: bytesOf(record) },
  };
}

const wholeOrNull = (value: number) => (Number.isSafeInteger(value) ? value : null);

function bytesOf(record: object): Uint8Array {
  try {
    return toWire(record);
  } catch {
    return new Uint8Array(0);
  }
}
