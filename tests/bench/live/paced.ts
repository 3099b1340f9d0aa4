/**
 * The same path as the flag's benchmark on a virtual clock, in one thread: firmware, ingest, watch,
 * floor, hub, page. What an arc waits here is what is built into the path (windows, blocks, the
 * sensor's rounds), whatever the machine.
 */
import { Ingest } from '../../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../../dashboard/server/live/floor.ts';
import type { PageSocket } from '../../../dashboard/server/live/hub.ts';
import { MemoryStore } from '../../../dashboard/server/store/memory-store.ts';
import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { LiveMessage } from '../../../shared/protocol/live.ts';
import type { Plate } from '../../../shared/protocol/plate.ts';
import { formatTopic } from '../../../shared/protocol/topics.ts';
import { Watch } from '../../../shared/watch/watch.ts';
import { Firmware } from '../../../simulator/firmware/firmware.ts';
import { MemoryFlash } from '../../../simulator/ports/memory-flash.ts';
import { MemoryLink } from '../../../simulator/ports/memory-link.ts';
import { VirtualClock } from '../../../simulator/ports/virtual-clock.ts';
import { type Arcs, Outlet, rateHz } from './outlet.ts';

/** As the simulated boards' loop has it. */
const roundMicros = 25_000;

/** Milliseconds from each arc's first sample to its flag. */
export function pacedWaits(count: number, arcs: Arcs, circuit: Circuit, plate: Plate): number[] {
  const clock = new VirtualClock();
  const link = new MemoryLink();
  const store = new MemoryStore();
  const stamp = { atUs: 0, by: null };
  const hung = {
    circuit: store.circuits.add(circuit, stamp).id,
    plate: store.plates.add(plate, stamp).id,
  };
  const floor = new Floor(store, () => clock.wallMicros() / 1_000);
  const ingest = new Ingest({
    ...{ store, floor, assignNew: () => hung, say: () => {} },
    link: { publish: (_, payload) => void link.tell('keep', payload) },
    makeWatch: (setup, events) => new Watch(setup, events),
  });
  ingest.start();
  const waits: number[] = [];
  let struckMs: number | null = null;
  const adc = new Outlet(clock, arcs, (frame) => {
    struckMs = (frame * 1_000) / rateHz;
  });
  const take = (message: LiveMessage) => {
    if (message.kind !== 'arc-goes-on' || message.verdict !== 'underpowered') return;
    if (struckMs !== null) waits.push(clock.monotonicMicros() / 1_000 - struckMs);
    struckMs = null;
  };
  floor.hub.enter(pageOf(take));
  const flash = new MemoryFlash(64);
  const firmware = new Firmware(
    { adc, clock, link, flash },
    { site: 'bench', name: 's0', at: 'machine' },
  );
  link.connect();
  while (waits.length < count) {
    clock.advance(roundMicros);
    firmware.tick();
    for (let letter = link.take(); letter; letter = link.take())
      ingest.receive(formatTopic('bench', 's0', letter.kind), letter.bytes);
    ingest.flush();
  }
  ingest.stop();
  return waits;
}

const pageOf = (take: (message: LiveMessage) => void): PageSocket => ({
  bufferedAmount: 0,
  send: (data, { binary }) => {
    if (!binary) take(JSON.parse(String(data)) as LiveMessage);
  },
  close: () => {},
  terminate: () => {},
});
