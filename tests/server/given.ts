import type { WatchLike } from '../../dashboard/server/ingest/watching.ts';
import type { Batch, Block, NewArc } from '../../dashboard/server/store/store.ts';
import type { Arc, Verdict } from '../../shared/protocol/judgement.ts';
import type { About, State, Wave } from '../../shared/protocol/messages.ts';
import type { CheckResult } from '../../shared/protocol/outlet-check.ts';
import type { WatchEvents, WatchedArc, WatchSetup, Welding } from '../../shared/watch/contract.ts';

/** When and by whom a plate or circuit of a test is made. */
export const stamp = { atUs: 1e15, by: null };

export const bay = 'harbour-lane.bay-1';

export const about = (boot = 1): About => ({
  ...{ v: 1, boot, name: 'bay-1', pairs: 1, rate: 10_240, bits: 16, scale: [0.01, 0.002] },
  ...{ at: 'machine', fw: 'test', site: 'harbour-lane' },
});

/** A block of 1,024 frames; its counts tell its seq. */
export const wave = (seq: number, first: number, more: Partial<Wave> = {}): Wave => ({
  ...{ v: 1, boot: 1, seq, first, time: 1e15 + Math.round((first * 1e6) / 10_240) },
  ...{ n: 1024, lost: 0, flags: 0, data: new Int16Array(2048).fill(seq) },
  ...more,
});

export const batchOf = (more: Partial<Batch>): Batch => ({
  ...{ blocks: [], rows: [], seconds: [], arcs: [], sags: [] },
  ...{ supplies: [], otherLoads: [], cursors: [], quarantined: [] },
  ...more,
});

export function block(seq: number, first: number, more: Partial<Block> = {}): Block {
  const { v: _, ...rest } = wave(seq, first);
  return { sensor: bay, ...rest, ...more };
}

export const state = (more: Partial<State>): State => ({
  ...{ v: 1, boot: 1, state: 'online', time: 1e15, sample: 0, oldest: 1, newest: 0, health: {} },
  ...more,
});

export const judged = (verdict: Verdict): Arc => ({
  ...{ startS: 1, endS: 2, durationS: 1, lostFraction: 0, verdict, findings: [] },
  channels: [
    {
      ...{ idleVolts: 120, meanVolts: 110, minVolts200ms: 106, minVoltsHalfCycle: 104 },
      ...{ meanAmps: 18, maxAmps200ms: 20, meanWatts: 1900, powerFactor: 0.9 },
      ...{ thdVoltsPercent: 3, thdAmpsPercent: 60 },
    },
  ],
});

export const newArc = (start: number, verdict: Verdict = 'adequate'): NewArc => ({
  ...{ sensor: bay, boot: 1, start, end: start + 10_240, arc: judged(verdict), says: 'so' },
  startedUs: 1e15 + start * 100,
  endedUs: 1e15 + start * 100 + 1e6,
  ...{ plate: null, circuit: null, plateVersion: null, circuitVersion: null },
  ...{ rateHz: 10_240, pairs: 1, supply: null, hung: null },
});

export const checked = (verdict: Verdict): CheckResult => ({
  ...{ schema: 'stiffline.outlet-check/1', date: '2026-11-25T08:00:00Z', person: 'Ida' },
  ...{ place: 'Bay 2', machine: 'Tern 100', circuit: 'Bay 1', cords: [], sensorAt: 'outlet' },
  ...{ noLoadVolts: 121, idleVolts: 120, beads: [], second: null, supply: null },
  ...{ atFullLoad: null, verdict, findings: [], remedies: [], cautions: [] },
});

/** A watch of which the tests know what it must say: current in a block's first frame is an arc. */
export class PlainWatch implements WatchLike {
  readonly #events: WatchEvents;
  /** What the newest arc is held against, of whichever watch began it. */
  static welding: Welding | null = null;
  #at = 0;
  #since: number | null = null;

  constructor(_setup: WatchSetup, events: WatchEvents) {
    this.#events = events;
  }

  push(channels: Float64Array[], frames: number): void {
    const burns = channels[1]![0]! !== 0;
    if (burns && this.#since === null) {
      this.#since = this.#at;
      this.#events.arcBegan?.(this.#at);
    }
    if (!burns) this.end();
    this.#at += frames;
    if (burns) this.#events.arcGoesOn?.(this.#arc());
    this.#events.rows?.({
      end: Float64Array.of(this.#at),
      hertz: Float32Array.of(60),
      volts: [Float32Array.of(channels[0]![0]!)],
      amps: [Float32Array.of(channels[1]![0]!)],
      watts: [Float32Array.of(0)],
    });
  }

  welds(welding: Welding): void {
    PlainWatch.welding = welding;
  }

  skip(frames: number): void {
    this.end();
    this.#at += frames;
  }

  end(): void {
    if (this.#since !== null) this.#events.arcEnded?.(this.#arc());
    this.#since = null;
  }

  #arc(): WatchedArc {
    const supply = { pairs: [null], behaviour: 'unknown' as const };
    return {
      ...{ start: this.#since!, end: this.#at, arc: judged('underpowered'), supply },
      ...{ hangs: { loops: [0], ampsPerLine: 1, service: null }, estimates: [null] },
    };
  }
}
