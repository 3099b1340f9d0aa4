import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe } from 'vitest';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import type { Store } from '../../dashboard/server/store/store.ts';
import { about, bay } from './given.ts';

/** One suite for every store: what one does, all do. Each test's is new and knows a sensor. */
export function forBothStores(suite: (store: () => Store) => void): void {
  describe.each(['memory', 'SQLite'] as const)('%s store', (kind) => {
    let folder: string;
    let store: Store;
    beforeEach(() => {
      folder = mkdtempSync(join(tmpdir(), 'stiffline-store-'));
      store = kind === 'memory' ? new MemoryStore() : new SqliteStore(join(folder, 'test.sqlite'));
      store.saveAbout(bay, 'harbour-lane', about());
    });
    afterEach(() => {
      store.close();
      rmSync(folder, { recursive: true });
    });
    suite(() => store);
  });
}
