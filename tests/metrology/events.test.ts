import { describe, expect, test } from 'vitest';
import { type RapidChange, RapidChanges } from '../../shared/metrology/rapid-changes.ts';
import {
  type RmsEvent,
  type RmsEventKind,
  type RmsEventOptions,
  RmsEvents,
} from '../../shared/metrology/rms-events.ts';
import { blankRow } from '../../shared/metrology/row.ts';
import { variationCategory } from '../../shared/metrology/variation-category.ts';

/** Half cycles of 100 samples at 50 Hz: 10 000 samples a second. */
const half = 100;
const rateHz = 10_000;

/** Feeds Urms(1/2) values as shares of 100 V, one list of channels a row. */
function feed(rows: readonly (readonly number[])[], options: Partial<RmsEventOptions> = {}) {
  const pairs = rows[0]!.length;
  const events: RmsEvent[] = [];
  const begun: RmsEventKind[] = [];
  const meter = new RmsEvents(
    { rateHz, pairs, declaredVolts: 100, ...options },
    { began: (kind) => begun.push(kind), ended: (event) => events.push(event) },
  );
  const row = blankRow(pairs);
  rows.forEach((shares, n) => {
    row.index = n;
    row.start = n * half;
    row.middle = (n + 1) * half;
    row.end = (n + 2) * half;
    row.hertz = 50;
    shares.forEach((share, pair) => {
      row.urms[pair] = row.uhalf[pair] = 100 * share;
    });
    meter.halfCycle(row);
  });
  return { meter, events, begun };
}

const single = (...shares: number[]) => shares.map((share) => [share]);

describe('one channel', () => {
  test('a dip has its residual voltage, depth, duration and category', () => {
    const { events, begun } = feed(single(1, 1, 0.89, 0.7, 0.7, 0.91, 0.93, 1));
    expect(begun).toEqual(['dip']);
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({ kind: 'dip', start: 300, end: 700, seconds: 0.04 });
    expect(events[0]).toMatchObject({ volts: 70, reference: 100 });
    expect(events[0]!.depth).toBeCloseTo(0.3, 12);
    expect(events[0]!.category).toBe('instantaneous sag');
  });

  test('hysteresis: threshold + 1 % goes on, threshold + 2 % ends', () => {
    expect(feed(single(1, 0.8, 0.91, 0.9199, 0.8, 0.91)).events).toHaveLength(0);
    expect(feed(single(1, 0.8, 0.92)).events).toHaveLength(1);
    expect(feed(single(1, 0.9, 0.9)).begun).toHaveLength(0);
  });

  test('a swell is the mirror image: 110 %, and ends at 108 %', () => {
    expect(feed(single(1, 1.1, 1)).begun).toHaveLength(0);
    expect(feed(single(1, 1.12, 1.09, 1.0801)).events).toHaveLength(0);
    const { events } = feed(single(1, 1.12, 1.15, 1.09, 1.08, 1));
    expect(events[0]).toMatchObject({ kind: 'swell', start: 200, end: 500 });
    expect(events[0]!.volts).toBeCloseTo(115, 9);
    expect(events[0]!.depth).toBeCloseTo(-0.15, 12);
    expect(events[0]!.category).toBe('instantaneous swell');
  });

  test('an interruption lies inside a dip', () => {
    const { events, begun } = feed(single(1, 0.5, 0.01, 0.01, 0.06, 0.08, 1, 1));
    expect(begun).toEqual(['dip', 'interruption']);
    expect(events.map((event) => event.kind)).toEqual(['interruption', 'dip']);
    expect(events[0]).toMatchObject({ start: 300, end: 600, volts: 1 });
    expect(events[1]).toMatchObject({ start: 200, end: 700, volts: 1 });
  });

  test('what lasts at the end of the stream ends there', () => {
    const { meter, events } = feed(single(1, 0.5, 0.6));
    meter.end();
    expect(events[0]).toMatchObject({ kind: 'dip', start: 200, end: 400, volts: 50 });
  });
});

describe('polyphase', () => {
  test('L1 dips, L2 dips before L1 recovers: one event from L1 to L2', () => {
    const rows = [
      [1, 1],
      [0.8, 1],
      [0.8, 0.75],
      [0.95, 0.7],
      [1, 0.91],
      [1, 0.92],
      [1, 1],
    ];
    const { events } = feed(rows);
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({ start: 200, end: 600, volts: 70 });
    expect(events[0]).toMatchObject({ startChannel: 0, endChannel: 1, extremeChannel: 1 });
  });

  test('a channel that sags into the hysteresis band holds another’s dip open', () => {
    const rows = [
      [1, 1],
      [0.8, 0.91],
      [1, 0.91],
      [1, 0.91],
      [1, 0.92],
    ];
    const { events } = feed(rows);
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({ start: 200, end: 500, startChannel: 0, endChannel: 1 });
  });

  test('one leg at 0 V, the other healthy: a dip, no interruption', () => {
    const { begun } = feed([...Array(5).fill([1, 1]), ...Array(9).fill([0, 1])]);
    expect(begun).toEqual(['dip']);
  });

  test('an interruption begins with the last channel and ends with the first', () => {
    const rows = [
      [1, 1, 1],
      [0, 1, 1],
      [0, 0, 1],
      [0, 0, 0],
      [0, 0, 0],
      [0, 0.5, 0],
      [1, 1, 1],
    ];
    const { events } = feed(rows);
    const interruption = events.find((event) => event.kind === 'interruption')!;
    expect(interruption).toMatchObject({ start: 400, end: 600, startChannel: 2, endChannel: 1 });
    const dip = events.find((event) => event.kind === 'dip')!;
    expect(dip).toMatchObject({ start: 200, end: 700, startChannel: 0 });
  });
});

describe('channels by themselves', () => {
  /** Each reading: channel, end in half cycles, share. */
  function byChannel(pairs: number, readings: readonly (readonly [number, number, number])[]) {
    const events: RmsEvent[] = [];
    const meter = new RmsEvents(
      { rateHz, pairs, declaredVolts: 100 },
      { ended: (event) => events.push(event) },
    );
    for (const [pair, end, share] of readings)
      meter.channel({
        ...{ pair, start: (end - 2) * half, middle: (end - 1) * half, end: end * half },
        ...{ hertz: 50, urms: 100 * share, uhalf: 100 * share },
      });
    return { meter, events };
  }

  test('a dip begins with the window that fell and ends with the last to rise', () => {
    const { events } = byChannel(2, [
      [0, 2, 1],
      [1, 2.3, 0.8],
      [0, 3, 0.85],
      [1, 3.3, 0.7],
      [0, 4, 0.91],
      [1, 4.3, 1],
      [0, 5, 0.93],
    ]);
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({ volts: 70, startChannel: 1, endChannel: 0 });
    expect(events[0]!.start).toBeCloseTo(130, 9);
    expect(events[0]!.end).toBeCloseTo(400, 9);
  });

  test('a channel not yet read is no interruption, and not the lowest', () => {
    const { meter, events } = byChannel(3, [
      [0, 2, 0.01],
      [0, 3, 0.02],
    ]);
    meter.end();
    expect(events).toMatchObject([{ kind: 'dip', volts: 1, extremeChannel: 0 }]);
  });
});

describe('sliding reference', () => {
  // A supply that stands at 88 % of what is declared is no dip against the last minute.
  test('follows with a time constant of a minute and is held during events', () => {
    const before = Array(300 * 100).fill([0.93]);
    const { events, begun } = feed([...before, ...single(0.85, 0.85, 0.93)], {
      reference: 'sliding',
    });
    expect(begun).toEqual([]);
    const deep = feed([...before, ...single(0.82, 0.82, 0.93)], { reference: 'sliding' });
    expect(deep.begun).toEqual(['dip']);
    // After five minutes: 93 + 7·(1 − 0.0033)^1500 = 93.05 V.
    expect(deep.events[0]!.reference).toBeCloseTo(93 + 7 * 0.9967 ** 1500, 6);
    expect(deep.events[0]!.depth).toBeCloseTo(1 - 82 / (93 + 7 * 0.9967 ** 1500), 6);
    expect(events).toEqual([]);
  });

  test('declared: the same supply dips', () => {
    expect(feed(single(0.93, 0.85, 0.93)).events).toHaveLength(1);
  });
});

describe('flagging', () => {
  test('an interval that holds any part of an event is touched, its neighbours are not', () => {
    const { meter } = feed(single(...Array(50).fill(1), 0.5, 0.5, ...Array(50).fill(1)));
    expect(meter.touches(4000, 5050)).toBe(false);
    expect(meter.touches(4000, 5150)).toBe(true);
    expect(meter.touches(5150, 5160)).toBe(true);
    expect(meter.touches(5250, 5400)).toBe(true);
    expect(meter.touches(5300, 5400)).toBe(false);
  });

  test('one that lasts touches everything since', () => {
    const { meter } = feed(single(1, 1, 0.5, 0.5));
    expect(meter.active).toBe(true);
    expect(meter.touches(350, 9999)).toBe(true);
    expect(meter.touches(100, 200)).toBe(false);
  });
});

describe('IEEE 1159 categories', () => {
  const rows: [number, number, string | null][] = [
    [0.005, 0.5, null],
    [0.1, 0.5, 'instantaneous sag'],
    [0.6, 0.5, 'momentary sag'],
    [2.9, 0.89, 'momentary sag'],
    [10, 0.5, 'temporary sag'],
    [61, 0.85, 'undervoltage'],
    [61, 0.5, null],
    [0.1, 0.05, 'momentary interruption'],
    [10, 0.05, 'temporary interruption'],
    [61, 0, 'sustained interruption'],
    [0.1, 1.5, 'instantaneous swell'],
    [1, 1.3, 'momentary swell'],
    [1, 1.5, null],
    [10, 1.15, 'temporary swell'],
    [61, 1.15, 'overvoltage'],
    [1, 0.95, null],
  ];
  for (const [seconds, perUnit, category] of rows) {
    test(`${seconds} s at ${perUnit}: ${category}`, () => {
      expect(variationCategory(seconds, perUnit, 60)).toBe(category);
    });
  }
});

describe('rapid voltage changes', () => {
  function changes(shares: readonly number[], spoilAt = -1): RapidChange[] {
    const told: RapidChange[] = [];
    const meter = new RapidChanges(
      { rateHz, pairs: 1, declaredVolts: 100, nominalHertz: 50, threshold: 0.03 },
      (change) => told.push(change),
    );
    const row = blankRow(1);
    shares.forEach((share, n) => {
      row.middle = (n + 1) * half;
      row.urms[0] = 100 * share;
      meter.halfCycle(row);
      if (n === spoilAt) meter.spoil();
    });
    return told;
  }
  const steady = (share: number, halves = 250) => Array(halves).fill(share);

  test('a step between two steady voltages: its largest and its lasting change', () => {
    const [change, ...more] = changes([...steady(1), 0.94, 0.93, ...steady(0.955)]);
    expect(more).toEqual([]);
    expect(change).toMatchObject({ channel: 0, start: 25_100, end: 25_300 });
    expect(change!.maxVolts).toBeCloseTo(7, 9);
    expect(change!.steadyVolts).toBeCloseTo(-4.5, 9);
  });

  test('a change within the threshold is none, nor is one with a dip inside', () => {
    expect(changes([...steady(1), ...steady(0.975)])).toEqual([]);
    expect(changes([...steady(1), 0.85, ...steady(0.95)], 250)).toEqual([]);
  });

  test('the first second is no change', () => {
    expect(changes(steady(0.5))).toEqual([]);
  });
});
