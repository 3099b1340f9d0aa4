import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { limits } from '../../dashboard/server/limits.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { Batch, Store } from '../../dashboard/server/store/store.ts';
import { type ArcEdge, encodeMessage, type Wave } from '../../shared/protocol/messages.ts';
import { about, bay, PlainWatch, stamp, state, wave } from './given.ts';

const topic = (kind: string) => `stiffline/v1/harbour-lane/bay-1/${kind}`;
let store: Store;
let floor: Floor;
let ingest: Ingest;
let kept: number[];
let said: string[];

/** A server over the present store, as after a start. */
function start(): void {
  floor = new Floor(store);
  kept = [];
  said = [];
  ingest = new Ingest({
    ...{ store, floor, say: (line) => said.push(line) },
    link: {
      publish: (_topic, payload) => kept.push((payload[payload.length - 1] ?? 0) & 0xff),
    },
    makeWatch: (setup, events) => new PlainWatch(setup, events),
  });
  ingest.start();
}
const greet = (boot = 1) => ingest.receive(topic('about'), encodeMessage('about', about(boot)));
const send = (...messages: (Wave | ArcEdge)[]) => {
  for (const message of messages)
    if ('data' in message) ingest.receive(topic('wave'), encodeMessage('wave', message));
    else ingest.receive(topic('arc'), encodeMessage('arc', message));
};
const quiet = (seq: number, first: number) => wave(seq, first, { data: new Int16Array(2048) });
const places = () =>
  store
    .arcs({ limit: 100 })
    .map(({ boot, start, end }) => [boot, start, end])
    .sort(([a, b], [c, d]) => a! - c! || b! - d!);
const tell = (more: Parameters<typeof state>[0]) =>
  ingest.receive(topic('state'), encodeMessage('state', state(more)));

/** Two arcs: blocks 2 to 4 burn, 6 burns; 1, 5, 7 do not. Half a second of nothing before 6. */
const story = () => [
  quiet(1, 0),
  wave(2, 1024),
  wave(3, 2048),
  wave(4, 3072),
  quiet(5, 4096),
  wave(6, 10_000),
  quiet(7, 11_024),
];
const storyArcs = [
  [1, 1024, 4096],
  [1, 10_000, 11_024],
];

beforeEach(() => {
  store = new MemoryStore();
  start();
});
afterEach(() => {
  ingest.stop();
});

describe('ingest', () => {
  it('stores blocks and arcs, then tells the sensor what it may let go', () => {
    greet();
    send(...story());
    expect(places()).toEqual([]);
    ingest.flush();
    expect(places()).toEqual(storyArcs);
    expect(store.blocks(bay, 1, 0, 99_999)).toHaveLength(7);
    expect(kept).toEqual([7]);
  });

  it('comes to the same arcs in any order and with any copies', () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray([...story(), ...story()], { minLength: 14 }),
        fc.array(fc.nat(13), { maxLength: 4 }),
        (messages, commits) => {
          store = new MemoryStore();
          start();
          greet();
          messages.forEach((message, at) => {
            send(message);
            if (commits.includes(at)) ingest.flush();
          });
          ingest.flush();
          expect(places()).toEqual(storyArcs);
          expect(store.blocks(bay, 1, 0, 99_999).map(({ seq }) => seq)).toEqual([
            1, 2, 3, 4, 5, 6, 7,
          ]);
          ingest.stop();
        },
      ),
      { numRuns: 60 },
    );
  });

  it('after a death at any message, the rest sent again gives each arc once', () => {
    for (let death = 0; death <= 7; death++)
      for (let committed = 0; committed <= death; committed++) {
        store = new MemoryStore();
        start();
        greet();
        send(...story().slice(0, committed));
        ingest.flush();
        const promised = kept.at(-1) ?? 0;
        send(...story().slice(committed, death));
        // Dead: what was not committed is gone. The sensor sends all that was not promised.
        start();
        greet();
        ingest.flush();
        expect(kept.at(-1)).toBe(promised);
        send(...story().filter(({ seq }) => seq > promised));
        ingest.flush();
        expect(places(), `death at ${death}, ${committed} stored`).toEqual(storyArcs);
        expect(store.rowsEnd(bay, 1)).toBe(11_024);
      }
  });

  it('keeps nothing of a commit that failed, promises nothing, and stores it at the next', () => {
    greet();
    const commit = store.commit.bind(store);
    store.commit = () => {
      throw new Error('disk full');
    };
    send(...story());
    ingest.flush();
    expect(kept).toEqual([]);
    expect(said).toEqual(['not stored: disk full']);
    store.commit = (batch: Batch) => commit(batch);
    ingest.flush();
    expect(kept).toEqual([7]);
    expect(places()).toEqual(storyArcs);
  });

  it('repeats a keep only when the sensor seems not to know it, and then at its next state', () => {
    greet();
    send(...story());
    ingest.flush();
    expect(kept).toEqual([7]);
    send(...story().slice(4));
    ingest.flush();
    expect(kept).toEqual([7]);
    tell({ newest: 7, sample: 13_000 });
    ingest.flush();
    expect(kept).toEqual([7, 7]);
    tell({ newest: 7, sample: 14_000 });
    ingest.flush();
    expect(kept).toEqual([7, 7]);
  });

  it('goes on over a hole that the sensor says it cannot fill', () => {
    greet();
    send(quiet(1, 0), wave(4, 3072), quiet(5, 4096));
    ingest.flush();
    expect(kept).toEqual([1]);
    tell({ oldest: 4, newest: 5, sample: 5_000 });
    ingest.flush();
    expect(kept).toEqual([1, 5]);
    expect(places()).toEqual([[1, 3072, 4096]]);
  });

  it('ends an arc of which no more comes, once the sensor says that it was quiet since', () => {
    greet();
    send(wave(1, 0));
    tell({ newest: 1, sample: 30_000 });
    ingest.flush();
    expect(places()).toEqual([]);
    tell({ newest: 1, sample: 200_000 });
    ingest.flush();
    expect(places()).toEqual([[1, 0, 1024]]);
  });

  it('ends an arc that a sensor closed as it said good-bye', () => {
    greet();
    send(wave(1, 0));
    tell({ state: 'offline', newest: 1, sample: 1_100 });
    ingest.flush();
    expect(places()).toEqual([[1, 0, 1024]]);
  });

  it('judges a boot that passed while no server listened', () => {
    greet(3);
    send(wave(1, 0, { boot: 2 }), wave(2, 512, { boot: 3 }), quiet(3, 1536));
    tell({ boot: 3, newest: 3, sample: 999_999 });
    ingest.flush();
    expect(places()).toEqual([
      [2, 0, 1024],
      [3, 512, 1536],
    ]);
    expect(store.about(bay, 2)).toMatchObject({ boot: 2, scale: about().scale });
  });

  it('does not judge a quiet load of hours again at a restart', () => {
    greet();
    for (let seq = 1; seq <= 400; seq++) send(quiet(seq, seq * 5_000));
    ingest.flush();
    let pushed = 0;
    const again = new Ingest({
      ...{ store, floor, say: () => {}, link: { publish: () => {} } },
      makeWatch: () => ({ push: () => pushed++, skip: () => {}, end: () => {}, welds: () => {} }),
    });
    again.start();
    again.stop();
    expect(pushed).toBe(limits.warmBlocks + 1);
  });

  it('counts from the new memory of a sensor whose old one was replaced', () => {
    greet();
    send(...story());
    ingest.flush();
    greet(9);
    tell({ boot: 9, oldest: 1, newest: 0 });
    send(wave(1, 0, { boot: 9 }), wave(2, 1024, { boot: 9, data: new Int16Array(2048) }));
    ingest.flush();
    expect(kept.at(-1)).toBe(2);
    expect(places()).toEqual([...storyArcs, [9, 0, 1024]]);
  });

  it('a retained state of before the restart does not take the count back', () => {
    greet();
    send(...story());
    ingest.flush();
    start();
    greet();
    tell({ oldest: 1, newest: 3, sample: 3_000 });
    ingest.flush();
    expect(kept.at(-1)).toBe(7);
  });

  it('bounds what waits for an earlier message, and takes the missing one all the same', () => {
    greet();
    const first = 2;
    for (let seq = first; seq < first + limits.reorder + 5; seq++) send(quiet(seq, seq * 1024));
    expect(ingest.counts.faults.full).toBe(5);
    send(quiet(1, 1024));
    ingest.flush();
    expect(store.blocks(bay, 1, 0, 1e9)).toHaveLength(limits.reorder + 1);
  });

  it('counts what it cannot read and goes on', () => {
    greet();
    ingest.receive(topic('wave'), Uint8Array.of(0xff));
    ingest.receive('elsewhere/x', Uint8Array.of(1));
    ingest.receive(topic('wave').replace('bay-1', 'bay-2'), encodeMessage('wave', wave(1, 0)));
    expect(ingest.counts.faults).toEqual({ 'no-cbor': 1, topic: 1, 'unknown-sensor': 1 });
    send(...story());
    ingest.flush();
    expect(places()).toEqual(storyArcs);
  });

  it('judges under the new plate from the next arc on, not in the midst of one', () => {
    const setups: (string | null)[] = [];
    store.plates.add({ name: 'Tern 100', phases: 1, supply: [{ U1: 120, I1max: 23 }] }, stamp);
    ingest = new Ingest({
      ...{ store, floor, say: () => {}, link: { publish: () => {} } },
      makeWatch: (setup, events) => {
        setups.push(setup.plate?.name ?? null);
        return new PlainWatch(setup, events);
      },
    });
    ingest.start();
    greet();
    send(...story().slice(0, 3));
    store.assign(bay, null, 1);
    ingest.reassign();
    send(...story().slice(3));
    ingest.flush();
    expect(setups).toEqual([null, 'Tern 100']);
    expect(store.arcs({ limit: 9 }).map(({ plate }) => plate?.name ?? null)).toEqual([
      'Tern 100',
      null,
    ]);
  });
});
