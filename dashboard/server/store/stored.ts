import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { StoredCircuit, StoredPlate } from '../../../shared/protocol/http.ts';
import type { Plate } from '../../../shared/protocol/plate.ts';
import type { StockRecord, VersionRecord } from './stock-store.ts';

/** When and by whom a version was made, as the API says it. */
export const versionOf = ({ version, atUs, by }: VersionRecord<unknown>) => ({
  version,
  changedAt: new Date(atUs / 1_000).toISOString(),
  changedBy: by,
});

export const storedCircuit = (of: StockRecord<Circuit>): StoredCircuit => ({
  ...{ id: of.id, circuit: of.value, retired: of.retired },
  ...versionOf(of),
});

export const storedPlate = (of: StockRecord<Plate>): StoredPlate => ({
  ...{ id: of.id, plate: of.value, retired: of.retired },
  ...versionOf(of),
});
