import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { limits } from '../../dashboard/server/limits.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { ArcRecord, Block } from '../../dashboard/server/store/store.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { formatTopic, sensorId } from '../../shared/protocol/topics.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { type Cause, Firmware } from '../../simulator/firmware/firmware.ts';
import type { Adc, AdcAbout, AdcBlock, Clock, Flash } from '../../simulator/hal.ts';
import type { Fault } from '../../simulator/ports/faults.ts';
import { FaultyAdc } from '../../simulator/ports/faulty-adc.ts';
import { FaultyClock } from '../../simulator/ports/faulty-clock.ts';
import { FaultyFlash, PowerCut } from '../../simulator/ports/faulty-flash.ts';
import { FaultyLink } from '../../simulator/ports/faulty-link.ts';
import { FramePace } from '../../simulator/ports/frame-pace.ts';
import { MemoryFlash } from '../../simulator/ports/memory-flash.ts';
import { MemoryLink } from '../../simulator/ports/memory-link.ts';
import { VirtualClock } from '../../simulator/ports/virtual-clock.ts';
import type { StoryArc } from './story.ts';

/** Low, so that hundreds of runs fit a coffee break: 34 samples a half cycle are enough. */
export const rateHz = 4_096;
const about: AdcAbout = { pairs: 1, rateHz, bits: 16, scale: [0.015625, 0.00390625] };
const site = 'test-site';
const sensor = 'bay-1';
export const id = sensorId(site, sensor);
const tickMicros = 25_000;
const openVolts = 122;
const ohms = 0.55;

/** Mains behind a resistance, a machine that idles, arcs; counted anew from each power-on. */
class BootAdc implements Adc {
  readonly about = about;
  /** Index of the world that is this boot's first. */
  base = 0;
  readonly #pace: FramePace;
  readonly #arcs: readonly StoryArc[];

  constructor(clock: Clock, arcs: readonly StoryArc[]) {
    this.#pace = new FramePace(clock, rateHz, 1e6);
    this.#arcs = arcs;
  }

  /** Frames of the time without power are nobody's. */
  powerOn(): void {
    const block = { frames: 0, first: 0, micros: 0, lost: 0 };
    this.#pace.take(block, Number.MAX_SAFE_INTEGER);
    this.base = block.first + block.frames;
  }

  read(into: Int32Array, block: AdcBlock): void {
    this.#pace.take(block, into.length >> 1);
    for (let frame = 0; frame < block.frames; frame++) {
      const n = block.first + frame;
      const t = n / rateHz;
      const arc = this.#arcs.find(({ from, to }) => t >= from && t < to);
      // A few per cent of flicker, the same in every run of a story.
      const flicker = 1 + 0.04 * Math.sin(47 * t) + 0.03 * Math.sin(131 * t);
      const sine = Math.SQRT2 * Math.sin(2 * Math.PI * 60 * t);
      const amps = (arc ? arc.amps * flicker : 0.3) * sine;
      into[2 * frame] = Math.round((openVolts * sine - ohms * amps) / 0.015625);
      into[2 * frame + 1] = Math.round(amps / 0.00390625);
    }
    block.first -= this.base;
  }
}

export interface Boot {
  number: number;
  /** Index of the world at which it began. */
  base: number;
}

/** Faults of the server, beside those of the ports. */
export interface ServerFault {
  /** The process dies and comes back; what was not committed is gone. */
  killsAt: readonly number[];
  /** Commits fail from the first to the second, in microseconds. */
  storeFails: readonly (readonly [number, number])[];
}

/** Firmware, link, ingest and store in one process, on a virtual clock. */
export class World {
  readonly store = new MemoryStore();
  readonly boots: Boot[] = [];
  readonly broken: string[] = [];
  readonly clock = new VirtualClock();
  firmware: Firmware | null = null;
  lostFrames = 0;
  readonly #link = new MemoryLink();
  readonly #faultyLink: FaultyLink;
  readonly #adc: BootAdc;
  readonly #faultyAdc: FaultyAdc;
  readonly #flash: Flash;
  readonly #boardClock: FaultyClock;
  readonly #server: ServerFault;
  readonly #kills: Set<number>;
  readonly #payloads = new Map<number, string>();
  #ingest: Ingest;
  #powerAt = 0;
  #tick = 0;

  constructor(arcs: readonly StoryArc[], faults: readonly Fault[], server: ServerFault) {
    this.#adc = new BootAdc(this.clock, arcs);
    this.#faultyAdc = new FaultyAdc(this.#adc, this.clock, faults);
    this.#faultyLink = new FaultyLink(this.#link, this.clock, faults);
    this.#flash = new FaultyFlash(new MemoryFlash(24), this.clock, faults);
    this.#boardClock = new FaultyClock(this.clock, faults);
    this.#server = server;
    this.#kills = new Set(server.killsAt);
    this.#equip();
    this.#ingest = this.#startServer();
    this.#link.connect();
  }

  run(seconds: number): void {
    const end = this.clock.monotonicMicros() + seconds * 1e6;
    while (this.clock.monotonicMicros() < end) this.#step();
  }

  /** Runs on until the server has all, at most so long; answers whether it has. */
  settle(seconds: number): boolean {
    for (let n = 0; n < seconds && !this.firmware?.delivered; n++) this.run(1);
    this.run(8); // a state or two more, by which the server knows that it was quiet
    this.#ingest.stop();
    return this.firmware?.delivered ?? false;
  }

  arcs(): ArcRecord[] {
    return this.store.arcs({ limit: 1_000 });
  }

  blocks(boot: number): Block[] {
    return this.store.blocks(id, boot, 0, Number.MAX_SAFE_INTEGER);
  }

  #step(): void {
    this.clock.advance(tickMicros);
    const now = this.clock.monotonicMicros();
    this.#board(now);
    for (const kill of this.#kills)
      if (now >= kill) {
        this.#kills.delete(kill);
        // Killed, not stopped: the batch that waits is never committed.
        this.#ingest = this.#startServer();
      }
    for (let letter = this.#link.take(); letter; letter = this.#link.take()) {
      this.#check(letter.bytes, letter.kind);
      this.#ingest.receive(formatTopic(site, sensor, letter.kind), letter.bytes);
    }
    if (this.#tick++ % 2 === 0) this.#ingest.flush();
  }

  #board(now: number): void {
    if (!this.firmware && now < this.#powerAt) return;
    try {
      this.firmware ??= this.#boot('power');
      if (this.firmware.tick() === 'restart') {
        this.lostFrames += this.firmware.health.lostFrames;
        this.firmware = null;
        this.firmware = this.#boot('watchdog');
      }
    } catch (error) {
      if (!(error instanceof PowerCut)) throw error;
      this.lostFrames += this.firmware?.health.lostFrames ?? 0;
      this.firmware = null;
      this.#powerAt = now + 300_000;
    }
  }

  #boot(cause: Cause): Firmware {
    this.#adc.powerOn();
    const hal = {
      adc: this.#faultyAdc,
      clock: this.#boardClock,
      link: this.#faultyLink,
      flash: this.#flash,
    };
    const firmware = new Firmware(hal, { site, name: sensor, at: 'machine' }, cause);
    this.boots.push({ number: firmware.boot, base: this.#adc.base });
    return firmware;
  }

  #startServer(): Ingest {
    const ingest = new Ingest({
      store: this.store,
      floor: new Floor(this.store, () => this.clock.wallMicros() / 1_000),
      link: { publish: (_, payload) => void this.#link.tell('keep', payload) },
      makeWatch: (setup, events) => new Watch(setup, events),
      assignNew: () => ({ circuit: 1, plate: 1 }),
      say: () => {},
    });
    ingest.start();
    return ingest;
  }

  #equip(): void {
    const stamp = { atUs: 0, by: null };
    this.store.circuits.add({ name: 'Bay 1', volts: 120, phases: 1, hertz: 60 }, stamp);
    const plate: Plate = {
      name: 'Wren 140',
      phases: 1,
      supply: [{ U1: 120, I1max: 24 }],
      ratings: [{ X: 0.2, I2: 140, U2: 21 }],
    };
    this.store.plates.add(plate, stamp);
    const commit = this.store.commit.bind(this.store);
    this.store.commit = (batch) => {
      const now = this.clock.monotonicMicros();
      if (this.#server.storeFails.some(([from, to]) => now >= from && now < to))
        throw new Error('the disk is full');
      if (batch.blocks.length > limits.reorder * 2) this.broken.push('a commit without bound');
      return commit(batch);
    };
  }

  /** No number is ever used for two things. */
  #check(bytes: Uint8Array, kind: string): void {
    if (kind !== 'wave' && kind !== 'arc') return;
    const at = Buffer.from(bytes).indexOf(Buffer.from('cseq', 'latin1'));
    const seq = Number(Buffer.from(bytes).readBigUInt64BE(at + 5));
    const text = Buffer.from(bytes).toString('latin1');
    const before = this.#payloads.get(seq);
    if (before !== undefined && before !== text) this.broken.push(`seq ${seq} was used twice`);
    this.#payloads.set(seq, text);
  }
}
