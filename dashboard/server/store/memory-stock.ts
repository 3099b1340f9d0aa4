import type { Stamp, StockRecord, StockStore, VersionRecord } from './stock-store.ts';

interface Thing<Value> {
  versions: VersionRecord<Value>[];
  retired: boolean;
}

/** Plates, circuits or feeders without a disk. */
export class MemoryStock<Value extends object> implements StockStore<Value> {
  #things: Thing<Value>[] = [];

  list(): StockRecord<Value>[] {
    return this.#things.map((_, at) => this.one(at + 1)!);
  }

  one(id: number): StockRecord<Value> | null {
    const thing = this.#things[id - 1];
    return thing
      ? structuredClone({ ...thing.versions.at(-1)!, id, retired: thing.retired })
      : null;
  }

  add(value: Value, stamp: Stamp): StockRecord<Value> {
    const first = structuredClone({ version: 1, value, ...stamp });
    this.#things.push({ versions: [first], retired: false });
    return this.one(this.#things.length)!;
  }

  set(id: number, value: Value, stamp: Stamp): StockRecord<Value> | null {
    const versions = this.#things[id - 1]?.versions;
    const last = versions?.at(-1);
    if (last && JSON.stringify(last.value) !== JSON.stringify(value))
      versions?.push(structuredClone({ version: last.version + 1, value, ...stamp }));
    return this.one(id);
  }

  retire(id: number, retired: boolean): StockRecord<Value> | null {
    const thing = this.#things[id - 1];
    if (thing) thing.retired = retired;
    return this.one(id);
  }

  versions(id: number, before: number, limit: number): VersionRecord<Value>[] {
    const all = this.#things[id - 1]?.versions ?? [];
    const older = all.filter(({ version }) => version < before).reverse();
    return structuredClone(older.slice(0, limit));
  }
}
