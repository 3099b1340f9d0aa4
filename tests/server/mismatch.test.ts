import { beforeEach, describe, expect, it } from 'vitest';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { Rows } from '../../shared/protocol/messages.ts';
import { about, bay, PlainWatch, stamp } from './given.ts';

let store: MemoryStore;
let floor: Floor;
let ingest: Ingest;
let told: string[];
const nowMs = Date.parse('2026-11-25T08:00:00Z');
const light = { name: 'Tern 100', phases: 1 as const, supply: [{ U1: 120, I1max: 20 }] };
const heavy = { name: 'Gannet 220', phases: 1 as const, supply: [{ U1: 240, I1max: 30 }] };
const three = { name: 'Skua 300', phases: 3 as const, supply: [{ U1: 240, I1max: 30 }] };

function start(): void {
  floor = new Floor(store, () => nowMs);
  const makeWatch = (...of: ConstructorParameters<typeof PlainWatch>) => new PlainWatch(...of);
  ingest = new Ingest({ store, floor, link: { publish() {} }, makeWatch, say() {} });
  ingest.start();
  told = [];
  floor.hub.enter({
    ...{ bufferedAmount: 0, close: () => {}, terminate: () => {} },
    send: (data: Uint8Array | string) => {
      told.push(data.toString());
    },
  });
}
beforeEach(() => {
  store = new MemoryStore();
  store.saveAbout(bay, 'harbour-lane', { ...about(), at: 'outlet' });
  for (const plate of [light, heavy, three]) store.plates.add(plate, stamp);
  store.circuits.add({ name: 'Bay 1', volts: 120 }, stamp);
  store.circuits.add({ name: 'Bay 2', volts: 240, phases: 1 }, stamp);
  start();
});

const rows = (volts: number, amps = 0.1): Rows => ({
  ...{ v: 1, boot: 1, first: 0, time: nowMs * 1e3, n: 120 },
  end: Float64Array.from({ length: 120 }, (_, row) => (row + 1) * (10_240 / 120)),
  hz: new Float32Array(120).fill(60),
  volts: [new Float32Array(120).fill(volts)],
  amps: [new Float32Array(120).fill(amps)],
  watts: [new Float32Array(120)],
});
const seconds = (volts: number, count = 4) => {
  for (let each = 0; each < count; each++) floor.rows(bay, rows(volts));
};
const assign = (circuit: number | null, plate: number | null) => {
  store.assign(bay, circuit, plate);
  ingest.reassign();
};
const mismatch = () => floor.sensor(bay)!.mismatch;

describe('a machine and a supply that do not go together', () => {
  it('are told as soon as one is assigned to the other, with nothing read', () => {
    assign(1, 1);
    expect(mismatch()).toBeUndefined();
    assign(2, 1);
    expect(mismatch()).toMatchObject({ verdict: 'unsuited' });
    expect(mismatch()!.says).toContain('made for 120 V');
    expect(told.at(-1)).toContain('"verdict":"unsuited"');
    assign(2, 3);
    expect(mismatch()!.says).toBe('The machine needs three phases; this circuit has one.');
    assign(2, 2);
    expect(mismatch()).toBeUndefined();
  });

  it('are told by the voltage with no load, before any arc', () => {
    assign(1, 1);
    seconds(239);
    expect(mismatch()).toMatchObject({ verdict: 'unsuited', saying: { name: 'classHigh' } });
    seconds(121);
    expect(mismatch()).toBeUndefined();
    assign(null, 2);
    expect(mismatch()).toMatchObject({ verdict: 'unsuited', saying: { name: 'classOther' } });
    seconds(208);
    expect(mismatch()).toMatchObject({ verdict: 'underpowered' });
    expect(mismatch()!.says).toContain('208 V');
  });

  it('are known again after a restart', () => {
    assign(2, 1);
    start();
    expect(mismatch()).toMatchObject({ verdict: 'unsuited' });
  });

  it('are no matter of a swell, nor of a plug that is being pushed in', () => {
    assign(1, 1);
    seconds(121);
    seconds(240, 1);
    expect(mismatch()).toBeUndefined();
    seconds(121, 1);
    expect(mismatch()).toBeUndefined();
  });

  it('are no matter of the voltage under an arc', () => {
    assign(null, 2);
    seconds(240);
    floor.arcBegan(bay, nowMs * 1e3);
    seconds(125, 6);
    expect(mismatch()).toBeUndefined();
    floor.arcDropped(bay);
    seconds(240);
    expect(mismatch()).toBeUndefined();
  });

  it('are told to the pages once, not with every reading', () => {
    assign(1, 1);
    seconds(239);
    const count = told.length;
    seconds(239, 20);
    seconds(239.2, 20);
    expect(told.filter((text, at) => at >= count && text.includes('"kind":"sensor"'))).toEqual([]);
  });
});
