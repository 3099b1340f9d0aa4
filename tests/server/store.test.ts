import { expect, it } from 'vitest';
import type { NewArc, Second, Store } from '../../dashboard/server/store/store.ts';
import type { Supply } from '../../shared/protocol/judgement.ts';
import type { RowBatch } from '../../shared/watch/contract.ts';
import { forBothStores } from './both-stores.ts';
import { about, batchOf, bay, block, newArc } from './given.ts';

const rows = (...ends: number[]): RowBatch => ({
  end: Float64Array.from(ends),
  hertz: new Float32Array(ends.length).fill(60),
  volts: [Float32Array.from(ends, (end) => 120 + end / 1024)],
  amps: [new Float32Array(ends.length).fill(18)],
  watts: [new Float32Array(ends.length).fill(2000)],
});

const second = (timeMs: number, low: number, high: number): Second => ({
  ...{ sensor: bay, timeMs, hertz: 60, voltsMin: [low], voltsMax: [high] },
  ...{ ampsMin: [0], ampsMax: [high - low] },
});

/** What sensors send, and what is judged of it. */
forBothStores((store) => {
  it('knows a sensor with its newest words, and each boot with its own', () => {
    store().saveAbout(bay, 'harbour-lane', { ...about(2), scale: [0.02, 0.004] });
    const [record] = store().sensors();
    expect(record).toMatchObject({ sensor: bay, kept: 0, settledBoot: -1, circuit: null });
    expect(record!.about.boot).toBe(2);
    expect(store().about(bay, 1)!.scale).toEqual([0.01, 0.002]);
    expect(store().about(bay, 3)).toBeNull();
    store().saveBoot(bay, { ...about(0), name: 'old' });
    expect(store().about(bay, 0)!.name).toBe('old');
    expect(store().sensors()[0]!.about.boot).toBe(2);
  });

  it('gives blocks back in stream order, sixteen bits and thirty-two', () => {
    const wide = { data: Int32Array.from({ length: 2048 }, (_, at) => at * 70_000) };
    store().commit(batchOf({ blocks: [block(2, 1024, wide), block(1, 0), block(4, 5000)] }));
    expect(store().blocks(bay, 1, 0, 9_000)).toEqual([
      block(1, 0),
      block(2, 1024, wide),
      block(4, 5000),
    ]);
    expect(
      store()
        .blocks(bay, 1, 1023, 1024)
        .map(({ seq }) => seq),
    ).toEqual([1]);
    expect(
      store()
        .blocks(bay, 1, 1024, 5001)
        .map(({ seq }) => seq),
    ).toEqual([2, 4]);
    expect(store().blocks(bay, 2, 0, 9_000)).toEqual([]);
    expect(
      store()
        .blocksBefore(bay, 1, 5_000, 1)
        .map(({ seq }) => seq),
    ).toEqual([2]);
    expect(
      store()
        .blocksBefore(bay, 1, 9_000, 9)
        .map(({ seq }) => seq),
    ).toEqual([1, 2, 4]);
  });

  it('keeps rows in chunks and knows where they end', () => {
    expect(store().rowsEnd(bay, 1)).toBe(-1);
    const chunks = [rows(85, 170, 256), rows(341, 427)];
    store().commit(
      batchOf({ rows: chunks.map((each) => ({ sensor: bay, boot: 1, batch: each })) }),
    );
    expect(store().rows(bay, 1, 0, 9_000)).toEqual(chunks);
    expect(store().rows(bay, 1, 257, 9_000)).toEqual([chunks[1]]);
    expect(store().rows(bay, 1, 0, 300)).toEqual([chunks[0]]);
    expect(store().rowsEnd(bay, 1)).toBe(427);
  });

  it('keeps the lowest and the highest of a second through any bucket', () => {
    const seconds = [second(1_000, 119, 121), second(2_000, 101, 120), second(9_000, 118, 119)];
    store().commit(batchOf({ seconds }));
    expect(store().history(bay, 0, 10_000, 5_000)).toEqual([
      { index: 0, voltsMin: [101], voltsMax: [121], ampsMin: [0], ampsMax: [19] },
      { index: 1, voltsMin: [118], voltsMax: [119], ampsMin: [0], ampsMax: [1] },
    ]);
    expect(store().history(bay, 2_000, 2_001, 1_000)).toHaveLength(1);
  });

  it('stores an arc once, whoever brings it again', () => {
    const [first] = store().commit(batchOf({ arcs: [newArc(5_000)] }));
    expect(store().arc(first!.id)).toEqual({
      ...{ ...newArc(5_000), id: first!.id },
      ...{ acknowledged: null, twin: null, countedBy: null },
    });
    expect(store().commit(batchOf({ arcs: [newArc(5_000), newArc(99_000)] }))).toHaveLength(1);
    expect(store().arcs({ limit: 10 })).toHaveLength(2);
  });

  it('lists arcs newest first, by pages, sensor and verdict', () => {
    const verdicts = ['adequate', 'underpowered', 'adequate', 'marginal'] as const;
    store().commit(batchOf({ arcs: verdicts.map((verdict, at) => newArc(at * 20_000, verdict)) }));
    const starts = (query: Parameters<Store['arcs']>[0]) =>
      store()
        .arcs(query)
        .map(({ start }) => start / 20_000);
    expect(starts({ limit: 2 })).toEqual([3, 2]);
    const last = store().arcs({ limit: 2 }).at(-1)!;
    expect(starts({ limit: 9, before: last })).toEqual([1, 0]);
    expect(starts({ limit: 9, verdict: 'adequate' })).toEqual([2, 0]);
    expect(starts({ limit: 9, sensor: bay })).toEqual([3, 2, 1, 0]);
    expect(starts({ limit: 9, sensor: 'harbour-lane.bay-9' })).toEqual([]);
  });

  it('flags an underpowered arc until somebody acknowledges it; the first name stays', () => {
    const arcs = [newArc(0, 'underpowered'), newArc(20_000)];
    const [weak] = store().commit(batchOf({ arcs }));
    expect(store().flags(bay)).toBe(1);
    const seen = store().acknowledge(weak!.id, 'M. Reyes', 5);
    expect(seen!.acknowledged).toEqual({ by: 'M. Reyes', atUs: 5 });
    expect(store().acknowledge(weak!.id, 'J. Okafor', 9)).toEqual(seen);
    expect(store().acknowledge(999, 'J. Okafor', 9)).toBeNull();
    expect(store().flags(bay)).toBe(0);
  });

  it('ties both ends of one weld together in any order, and counts the machine’s', () => {
    const door = 'harbour-lane.bay-1-outlet';
    store().saveAbout(door, 'harbour-lane', { ...about(), at: 'outlet' });
    const seen = (sensor: string, start: number, meanVolts: number, circuit = 1): NewArc => {
      const weak = newArc(start, 'underpowered');
      const channels = [{ ...weak.arc.channels[0]!, meanVolts }];
      const at = sensor === door ? ('outlet' as const) : ('machine' as const);
      return { ...weak, sensor, arc: { ...weak.arc, channels }, hung: { circuit, at } };
    };
    const [first] = store().commit(batchOf({ arcs: [seen(door, 0, 116)] }));
    expect(store().flags(door)).toBe(1);
    // Its clock is 50 ms off.
    const [second] = store().commit(batchOf({ arcs: [seen(bay, 500, 110)] }));
    expect(second).toMatchObject({ twin: first!.id, countedBy: null });
    expect(store().arc(first!.id)).toMatchObject({ twin: second!.id, countedBy: second!.id });
    expect([store().flags(door), store().flags(bay)]).toEqual([0, 1]);
    const both = store().commit(
      batchOf({ arcs: [seen(bay, 40_000, 110), seen(door, 40_000, 116)] }),
    );
    expect(both.map(({ twin }) => twin)).toEqual([both[1]!.id, both[0]!.id]);
    // Other welds, other circuits and ends that look swapped are two flags.
    const apart = [seen(door, 80_000, 116), seen(bay, 95_000, 110), seen(bay, 80_000, 110, 2)];
    for (const { twin } of store().commit(batchOf({ arcs: apart }))) expect(twin).toBeNull();
    const wrong = [seen(door, 120_000, 105), seen(bay, 120_000, 112)];
    for (const arc of store().commit(batchOf({ arcs: wrong })))
      expect(arc).toMatchObject({ twin: expect.any(Number), countedBy: null });
    expect([store().flags(door), store().flags(bay)]).toEqual([2, 5]);
  });

  it('lists sags of a time, each once', () => {
    const sag = {
      ...{ startS: 1, durationS: 0.1, residualVolts: 100, depthPercent: 17 },
      ...{ category: null, channel: 1 },
    };
    const at = (start: number) => ({ sensor: bay, boot: 1, start, startedUs: start * 100, sag });
    store().commit(batchOf({ sags: [at(50), at(10), at(10), at(90)] }));
    const found = store().sags({ sensor: bay, fromUs: 0, toUs: 9_000, limit: 9 });
    expect(found).toEqual([at(10), at(50)]);
    expect(store().sags({ sensor: bay, fromUs: 0, toUs: 99_000, limit: 1 })).toHaveLength(1);
  });

  it('keeps what arcs showed of a supply, each once, the last of each bucket', () => {
    const at = (sample: number, ohmsR: number, more = {}) => ({
      ...{ sensor: bay, boot: 1, sample, atUs: sample * 1e6, wiring: 'a', pair: 1 },
      supply: {
        ...{ openVolts: 240, ohmsR, ohmsX: 0.1, steps: 4 },
        ...{ ohmsR95: [ohmsR - 0.1, ohmsR + 0.1], ohmsX95: [0, 0.2] },
      } as Supply,
      ...more,
    });
    const [first, second, late] = [at(10, 0.3), at(12, 0.4), at(50, 0.5)];
    const other = at(12, 0.6, { pair: 2 });
    const elsewhere = at(60, 0.1, { wiring: 'b' });
    store().commit(batchOf({ supplies: [first, second, late, other, elsewhere, at(10, 9)] }));
    const list = (fromUs: number, toUs: number, bucketUs: number) =>
      store().supplies({ sensor: bay, fromUs, toUs, bucketUs });
    expect(list(0, 60e6, 1)).toEqual([first, second, other, late]);
    expect(list(0, 60e6, 20e6)).toEqual([second, other, late]);
    expect(list(11e6, 50e6, 1)).toEqual([second, other]);
    expect(store().newestSupplies(bay, 2)).toEqual([elsewhere, late]);
    const early = { sensor: bay, wiring: 'a', spanUs: 2e6, limit: 9 };
    expect(store().firstSupplies(early)).toEqual([first, second, other]);
    expect(store().firstSupplies({ ...early, limit: 1 })).toEqual([first]);
  });

  it('thins old estimates to the last of each day, and lets old loads go', () => {
    const hour = (at: number) => ({
      ...{ sensor: bay, boot: 1, sample: at, atUs: at * 3_600e6, wiring: 'a', pair: 1 },
      supply: {
        ...{ openVolts: 240, ohmsR: 0.2, ohmsX: 0.1, steps: at },
        ...{ ohmsR95: [0.1, 0.3], ohmsX95: [0, 0.2] },
      } as Supply,
    });
    const load = (sample: number) => ({
      ...{ sensor: bay, boot: 1, sample, atUs: sample * 3_600e6 },
      event: {
        ...{ atS: sample, channel: 1, volts: -2, halfWidthVolts: 0.1 },
        ...{ amps: 9, halfWidthAmps: 1, duringArc: false },
      },
    });
    const supplies = [1, 5, 23, 25, 30, 49, 50].map(hour);
    store().commit(batchOf({ supplies, otherLoads: [load(2), load(2), load(49)] }));
    const loads = { sensor: bay, fromUs: 0, toUs: 1e15, limit: 9 };
    expect(store().otherLoads(loads)).toEqual([load(2), load(49)]);
    expect(store().sweep(1e12, 49 * 3_600e3)).toMatchObject({ supplies: 3, otherLoads: 1 });
    const left = store().supplies({ sensor: bay, fromUs: 0, toUs: 1e15, bucketUs: 1 });
    expect(left.map(({ sample }) => sample)).toEqual([23, 30, 49, 50]);
    expect(store().otherLoads(loads)).toEqual([load(49)]);
  });

  it('moves the cursor with the commit', () => {
    const cursor = { sensor: bay, kept: 7, settledBoot: 1, settledSample: 1234.5 };
    store().commit(batchOf({ cursors: [cursor] }));
    expect(store().sensors()[0]).toMatchObject(cursor);
  });

  it('stores all of a batch or nothing', () => {
    const stranger = block(2, 1024, { sensor: 'harbour-lane.stranger' });
    expect(() => store().commit(batchOf({ blocks: [block(1, 0), stranger] }))).toThrow('was saved');
    expect(store().blocks(bay, 1, 0, 9_000)).toEqual([]);
  });

  it('gives up the oldest waveform first, and old history', () => {
    const blocks = Array.from({ length: 64 }, (_, at) => block(at, at * 1024));
    store().commit(batchOf({ blocks, seconds: [second(1_000, 1, 2), second(90_000, 1, 2)] }));
    const swept = store().sweep(64 * 1024, 60_000);
    expect(swept).toMatchObject({ seconds: 1 });
    expect(swept.blocks).toBeGreaterThan(0);
    expect(store().history(bay, 0, 100_000, 100_000)).toHaveLength(1);
  });
});
