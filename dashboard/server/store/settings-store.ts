import type { ShopSettings } from '../../../shared/protocol/http-settings.ts';
import type { Database } from './database.ts';

/** What the shop has settled, all of it at once. */
export interface SettingsStore {
  get(): ShopSettings;
  set(settings: ShopSettings): void;
}

/** Before anybody has settled anything. */
const unsettled: ShopSettings = { hertz: null, units: 'us', language: null, timeZone: null };

export class MemorySettings implements SettingsStore {
  #settings: ShopSettings = unsettled;

  get(): ShopSettings {
    return { ...this.#settings };
  }

  set(settings: ShopSettings): void {
    this.#settings = { ...settings };
  }
}

/** One row; what a newer version has added and an older one left out has its default. */
export class SqliteSettings implements SettingsStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  get(): ShopSettings {
    const row = this.#database.prepare('SELECT settings FROM shop_settings WHERE id = 1').get();
    return row ? { ...unsettled, ...JSON.parse(String(row.settings)) } : { ...unsettled };
  }

  set(settings: ShopSettings): void {
    this.#database
      .prepare('INSERT OR REPLACE INTO shop_settings (id, settings) VALUES (1, ?)')
      .run(JSON.stringify(settings));
  }
}
