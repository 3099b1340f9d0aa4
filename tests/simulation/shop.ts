import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../dashboard/server/app.ts';
import { Access } from '../../dashboard/server/http/access.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import { assert } from '../../shared/assert.ts';
import { readCircuit } from '../../shared/protocol/read-circuit.ts';
import { readPlate } from '../../shared/protocol/read-plate.ts';
import { formatTopic, sensorId } from '../../shared/protocol/topics.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { createPlant, scenarioByName } from '../../simulator/electrics/index.ts';
import { Firmware } from '../../simulator/firmware/firmware.ts';
import { MemoryFlash } from '../../simulator/ports/memory-flash.ts';
import { MemoryLink } from '../../simulator/ports/memory-link.ts';
import { SimulatedAdc } from '../../simulator/ports/simulated-adc.ts';
import { VirtualClock } from '../../simulator/ports/virtual-clock.ts';

const site = 'harbour-lane';
const tickMicros = 25_000;

/**
 * A scenario's sensor, its firmware, ingest, the real watch and the HTTP side, under one clock that
 * passes when it is told to.
 */
export class Shop {
  readonly clock = new VirtualClock();
  readonly store = new MemoryStore();
  readonly id: string;
  readonly floor: Floor;
  app!: FastifyInstance;
  readonly #link = new MemoryLink();
  readonly #firmware: Firmware;
  readonly #ingest: Ingest;
  readonly #sensor: string;

  constructor(sensor: string, seed: number, scenarioName = 'harbour-lane') {
    const scenario = scenarioByName(scenarioName);
    const bay = scenario?.bays.find(({ sensors }) => sensors.some(({ name }) => name === sensor));
    assert(scenario && bay, `there is a sensor ${sensor}`);
    const plain = (value: unknown) => JSON.parse(JSON.stringify(value)) as unknown;
    const circuit = readCircuit(plain(bay.circuit));
    const plate = readPlate(plain(bay.plate));
    assert(circuit.ok && plate.ok, 'the bay has a circuit and a plate');
    const stamp = { atUs: 0, by: null };
    this.store.circuits.add(circuit.value, stamp);
    this.store.plates.add(plate.value, stamp);
    this.#sensor = sensor;
    this.id = sensorId(site, sensor);
    this.floor = new Floor(this.store, () => this.clock.wallMicros() / 1_000);
    this.#ingest = new Ingest({
      ...{ store: this.store, floor: this.floor, say: () => {} },
      link: { publish: (_, payload) => void this.#link.tell('keep', payload) },
      makeWatch: (setup, events) => new Watch(setup, events),
      assignNew: () => ({ circuit: 1, plate: 1 }),
    });
    this.#ingest.start();
    const point = createPlant(scenario, seed, [sensor]).points[0]!;
    const { clock } = this;
    const adc = new SimulatedAdc(point, clock);
    const hal = { adc, clock, link: this.#link, flash: new MemoryFlash(128) };
    this.#firmware = new Firmware(hal, { site, name: sensor, at: point.about.sensorAt }, 'power');
    this.#link.connect();
  }

  async open(): Promise<void> {
    const { store, floor } = this;
    const parts = { store, floor, ingest: this.#ingest, access: new Access(false) };
    this.app = await buildApp({ ...parts, version: '0', webRoot: 'no-such-folder' });
  }

  async close(): Promise<void> {
    this.#ingest.stop();
    await this.app.close();
  }

  run(seconds: number): void {
    const end = this.clock.monotonicMicros() + seconds * 1e6;
    for (let tick = 0; this.clock.monotonicMicros() < end; tick++) {
      this.clock.advance(tickMicros);
      this.#firmware.tick();
      for (let letter = this.#link.take(); letter; letter = this.#link.take())
        this.#ingest.receive(formatTopic(site, this.#sensor, letter.kind), letter.bytes);
      if (tick % 2 === 0) this.#ingest.flush();
    }
  }
}
