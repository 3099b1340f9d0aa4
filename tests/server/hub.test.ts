import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { limits } from '../../dashboard/server/limits.ts';
import { Hub, type PageSocket } from '../../dashboard/server/live/hub.ts';
import type { LiveMessage } from '../../shared/protocol/live.ts';
import { decodeRows } from '../../shared/protocol/live-rows.ts';

/** A page that lags as much as a test says. */
class Page implements PageSocket {
  bufferedAmount = 0;
  readonly heard: LiveMessage[] = [];
  /** Of each frame of rows its serial, and the sensors' slots. */
  readonly rows: { serial: number; slots: number[] }[] = [];
  ended = '';

  send(data: Uint8Array | string, { binary }: { binary: boolean }): void {
    if (binary) {
      const { serial, sensors } = decodeRows(Uint8Array.from(data as Uint8Array).buffer)!;
      this.rows.push({ serial, slots: sensors.map(({ slot }) => slot) });
    } else this.heard.push(JSON.parse(data.toString()) as LiveMessage);
  }
  close(_code: number, reason: string): void {
    this.ended = reason;
  }
  terminate(): void {
    this.ended = 'cut';
  }
}

const rowsOf = (slot: number) => ({
  ...{ slot, timeMs: Float64Array.of(1), hertz: Float32Array.of(60) },
  ...{ volts: [Float32Array.of(120)], amps: [Float32Array.of(1)], watts: [Float32Array.of(9)] },
});
const beat = { kind: 'beat', nowMs: 5 } as const;

let hub: Hub;
let page: Page;
beforeEach(() => {
  vi.useFakeTimers();
  hub = new Hub(
    () => ({ sensors: [], arcs: [] }),
    () => 7,
  );
  page = new Page();
});

afterEach(() => {
  vi.useRealTimers();
});

describe('hub', () => {
  it('greets with the whole state and the serial so far, then counts on by one', () => {
    hub.tell(beat);
    hub.enter(page);
    expect(page.heard[0]).toMatchObject({ kind: 'hello', serial: 1, version: 2, nowMs: 7 });
    hub.rows(rowsOf(1));
    hub.tell(beat);
    expect(page.rows).toEqual([{ serial: 2, slots: [1] }]);
    expect(page.heard[1]).toEqual({ ...beat, serial: 3 });
  });

  it('joins the rows of a moment to one frame, and no message overtakes them', () => {
    hub.rows(rowsOf(9));
    hub.enter(page);
    hub.rows(rowsOf(1));
    hub.rows(rowsOf(2));
    vi.advanceTimersByTime(limits.rowsAfterMs - 1);
    expect(page.rows).toEqual([]);
    hub.rows(rowsOf(1));
    vi.advanceTimersByTime(1);
    expect(page.rows).toEqual([{ serial: 1, slots: [1, 2, 1] }]);
    hub.rows(rowsOf(3));
    hub.tell(beat);
    expect(page.rows[1]).toEqual({ serial: 2, slots: [3] });
    expect(page.heard.at(-1)).toEqual({ ...beat, serial: 3 });
    vi.advanceTimersByTime(10 * limits.rowsAfterMs);
    expect(page.rows.length).toBe(2);
    hub.rows(rowsOf(4));
    const late = new Page();
    hub.enter(late);
    expect(late.heard[0]).toMatchObject({ kind: 'hello', serial: 4 });
    expect(late.rows).toEqual([]);
    expect(page.rows[2]).toEqual({ serial: 4, slots: [4] });
  });

  it('leaves rows out for a page that lags, never a message, and says how many', () => {
    hub.enter(page);
    page.bufferedAmount = limits.pageRowsBytes + 1;
    hub.rows(rowsOf(1));
    vi.advanceTimersByTime(limits.rowsAfterMs);
    hub.rows(rowsOf(1));
    hub.tell(beat);
    expect(page.rows).toEqual([]);
    expect(page.heard.at(-1)).toMatchObject({ kind: 'beat', serial: 3 });
    page.bufferedAmount = 0;
    hub.tell(beat);
    expect(page.heard.slice(-2)).toEqual([
      { kind: 'left-out', serial: 3, frames: 2 },
      { ...beat, serial: 4 },
    ]);
    hub.tell(beat);
    expect(page.heard.at(-1)).toEqual({ ...beat, serial: 5 });
  });

  it('cuts a page that could not be told a verdict in time, and lets the others be', () => {
    const other = new Page();
    hub.enter(page);
    hub.enter(other);
    page.bufferedAmount = limits.pageCutBytes + 1;
    hub.tell(beat);
    expect(page.ended).toBe('cut');
    expect(hub.pages).toBe(1);
    expect(other.heard.at(-1)).toMatchObject(beat);
  });

  it('lets no more pages in than it can serve', () => {
    for (let n = 0; n < limits.pages; n++) hub.enter(new Page());
    expect(hub.enter(page)).toBe(false);
    expect(page.ended).toBe('too many pages');
    hub.leave(page);
    expect(hub.pages).toBe(limits.pages);
  });
});
