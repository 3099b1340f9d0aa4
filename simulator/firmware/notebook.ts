import { assert } from '../../shared/assert.ts';
import type { Flash } from '../hal.ts';
import { FlashRing, recordHead } from './flash-ring.ts';
import { notebookSectors, postTriggerMs, triggerAmps } from './limits.ts';

/** Settings by their names on the wire, with their bounds. */
export const settingBounds = {
  triggerAmps,
  postTriggerMs,
  rows: { least: 0, usual: 1, most: 1 },
} as const;
export type SettingName = keyof typeof settingBounds;
export const settingNames = Object.keys(settingBounds) as SettingName[];

const pageKind = 1;
const pageFormat = 1;
const pageLength = 48;

/**
 * What must outlive power-off: boot number, settings, watchdog starts. One page, written anew at
 * each change in a ring of two sectors, so that the last whole one always holds.
 */
export class Notebook {
  boot = 0;
  watchdog = 0;
  readonly settings: Record<SettingName, number> = {
    triggerAmps: triggerAmps.usual,
    postTriggerMs: postTriggerMs.usual,
    rows: 1,
  };
  private readonly ring: FlashRing;
  private readonly bytes = new Uint8Array(recordHead + pageLength);
  private readonly view = new DataView(this.bytes.buffer, recordHead);

  constructor(flash: Flash) {
    this.ring = new FlashRing(flash, 0, notebookSectors);
  }

  get errors(): number {
    return this.ring.errors;
  }

  /**
   * Reads the last page. A blank notebook's boot numbers begin at `firstBoot`: a board whose flash
   * was replaced must not use its old numbers again.
   */
  open(firstBoot: number): void {
    this.boot = firstBoot - 1;
    this.ring.open(1);
    this.ring.kept = this.ring.newest;
    this.ring.seek(this.ring.oldest);
    const page = new Uint8Array(pageLength);
    for (let length = this.ring.next(page); length !== 0; length = this.ring.next(page))
      if (length === pageLength) this.read(page);
  }

  /** False where flash would not take it; what was told before still holds then. */
  write(): boolean {
    const view = this.view;
    view.setUint32(0, pageFormat, true);
    view.setUint32(4, this.watchdog, true);
    view.setFloat64(8, this.boot, true);
    view.setFloat64(16, this.settings.triggerAmps, true);
    view.setFloat64(24, this.settings.postTriggerMs, true);
    view.setFloat64(32, this.settings.rows, true);
    view.setFloat64(40, 0, true);
    this.ring.kept = this.ring.newest;
    return this.ring.append(pageKind, this.bytes, pageLength);
  }

  /** Whether a setting may have this value. */
  allows(name: SettingName, value: number): boolean {
    const { least, most } = settingBounds[name];
    return value >= least && value <= most;
  }

  private read(page: Uint8Array): void {
    const view = new DataView(page.buffer);
    if (view.getUint32(0, true) !== pageFormat) return;
    this.watchdog = view.getUint32(4, true);
    this.boot = view.getFloat64(8, true);
    const { settings } = this;
    settings.triggerAmps = view.getFloat64(16, true);
    settings.postTriggerMs = view.getFloat64(24, true);
    settings.rows = view.getFloat64(32, true);
    for (const name of settingNames)
      assert(this.allows(name, settings[name]), 'a setting on flash was checked when it was made');
  }
}
