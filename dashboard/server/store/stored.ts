import type { StockRecord, VersionRecord } from './stock-store.ts';

/** When and by whom a version was made, as the API says it. */
export const versionOf = ({ version, atUs, by }: VersionRecord<unknown>) => ({
  version,
  changedAt: new Date(atUs / 1_000).toISOString(),
  changedBy: by,
});

type Stored<Name extends string, Value> = ReturnType<typeof versionOf> & {
  id: number;
  retired: boolean;
} & Record<Name, Value>;

/** As the API says it: the value under its own name, `circuit` or `plate`. */
export const storedAs = <Name extends string, Value>(
  name: Name,
  { id, retired, value, ...version }: StockRecord<Value>,
) => ({ id, [name]: value, retired, ...versionOf({ ...version, value }) }) as Stored<Name, Value>;
