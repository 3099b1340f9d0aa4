import { assert } from '../../shared/assert.ts';
import type { Adc, AdcBlock, Clock, Flash, Link, Received } from '../hal.ts';
import { CborWriter } from './cbor-writer.ts';
import { ChannelWatch } from './channel-watch.ts';
import { Courier, type CourierCalls } from './courier.ts';
import { Desk, type SelfTest, writeHealth } from './desk.ts';
import { FlashRing } from './flash-ring.ts';
import { HalfCycles } from './half-cycles.ts';
import { Health } from './health.ts';
import * as limits from './limits.ts';
import { Notebook } from './notebook.ts';
import { Recorder } from './recorder.ts';
import { Timekeeper } from './timekeeper.ts';

export interface Hal {
  adc: Adc;
  clock: Clock;
  link: Link;
  flash: Flash;
}

/** What the sensor is called, and where it is clamped on. */
export interface Identity {
  site: string;
  name: string;
  /** Null where whoever clamped it on did not say. */
  at: 'outlet' | 'machine' | null;
}

/** Why the board started. */
export type Cause = 'power' | 'watchdog';

export const firmwareName = 'stiffline sensor 0.1.0';

/**
 * The sensor's program: does nothing until it is ticked, then a bounded piece of all there is to
 * do. Ticks may come at any pace that keeps the converter's buffer from running over.
 */
export class Firmware implements CourierCalls {
  readonly health = new Health();
  private readonly hal: Hal;
  private readonly identity: Identity;
  private readonly time: Timekeeper;
  private readonly notebook: Notebook;
  private readonly ring: FlashRing;
  private readonly watch: ChannelWatch;
  private readonly recorder: Recorder;
  private readonly rows: HalfCycles;
  private readonly courier: Courier;
  private readonly desk: Desk;
  private readonly counts: Int32Array;
  private readonly block: AdcBlock = { frames: 0, first: 0, micros: 0.5, lost: 0 };
  private readonly talk = new CborWriter(limits.maxTalkBytes);
  private readonly rowBytes: CborWriter;
  private now = 0.5;
  private framesAt = 0.5;
  private rowsAt = 0.5;
  private stateAt = 0.5;
  private stateTold = '';
  private oldestTold = 0;
  private stopped = false;
  private aboutTold = false;

  constructor(hal: Hal, identity: Identity, cause: Cause = 'power') {
    const { about } = hal.adc;
    assert(about.pairs >= 1 && about.pairs <= limits.maxPairs, 'one to three pairs');
    assert(about.bits >= 8 && about.bits <= limits.maxBits, 'eight to 24 bits');
    assert(about.scale.length === 2 * about.pairs, 'a scale for each channel');
    this.hal = hal;
    this.identity = identity;
    this.time = new Timekeeper(hal.clock, about.rateHz);
    this.now = this.time.now();
    this.framesAt = this.now;
    this.rowsAt = this.now;
    const wall = this.time.at(this.now);
    this.notebook = new Notebook(hal.flash);
    this.notebook.open(Math.floor(wall / 1e6));
    this.notebook.boot++;
    if (cause === 'watchdog') this.notebook.watchdog++;
    this.notebook.write();
    const { notebookSectors } = limits;
    this.ring = new FlashRing(hal.flash, notebookSectors, hal.flash.sectors - notebookSectors);
    // Milliseconds: a thousand a second is more than is ever recorded, so a ring that starts
    // blank later starts higher, and the server takes its records for the new ones they are.
    this.ring.open(Math.floor(wall / 1e3));
    this.watch = new ChannelWatch(about);
    this.recorder = new Recorder(about, this.watch, this.ring, this.time, this.notebook);
    this.rows = new HalfCycles(about);
    this.counts = new Int32Array(limits.readFrames * 2 * about.pairs);
    this.rowBytes = new CborWriter(limits.rowsBytes(about.pairs));
    const received: Received = {
      kind: 'keep',
      bytes: new Uint8Array(limits.maxReceivedBytes),
      length: 0,
    };
    const longest = limits.payloadBytes(about.pairs, about.bits);
    this.courier = new Courier(hal.link, this.ring, this, received, longest);
    this.desk = this.furnishDesk();
  }

  private furnishDesk(): Desk {
    const changed = () => this.recorder.settingsChanged();
    const { hal, notebook, time, health } = this;
    return new Desk(hal.link, notebook, time, health, () => this.selfTest(), changed);
  }

  get boot(): number {
    return this.notebook.boot;
  }

  /** Whether the server has all there is. */
  get delivered(): boolean {
    return this.courier.delivered;
  }

  /** Records that the server does not have yet. */
  get backlog(): number {
    return this.ring.newest - this.ring.kept;
  }

  /** One turn of the main loop; `restart` asks for what a board's watchdog does. */
  tick(): 'run' | 'restart' {
    this.now = this.time.now();
    if (!this.stopped) this.drain();
    this.time.check(this.now, this.recorder.state !== 'watching');
    this.count();
    this.courier.tick(this.now);
    if (this.courier.state !== 'down' && this.courier.state !== 'greeting') this.tell();
    if (this.stopped || this.now - this.framesAt < limits.adcSilentMs * 1_000) return 'run';
    return 'restart';
  }

  /** Ends sampling: what is captured is closed and still delivered, by further ticks. */
  stop(): void {
    if (this.stopped) return;
    this.recorder.halt();
    this.stopped = true;
  }

  greet(): boolean {
    if (!this.aboutTold) {
      this.writeAbout();
      this.aboutTold = this.hal.link.send('about', this.talk.bytes, this.talk.length);
      if (!this.aboutTold) return false;
    }
    if (!this.sendState()) return false;
    this.aboutTold = false;
    return true;
  }

  asked(message: Received): void {
    this.desk.asked(message, this.now);
  }

  readKeep(message: Received): number {
    return this.desk.readKeep(message);
  }

  private drain(): void {
    const { block, counts } = this;
    for (let reads = 0; reads < limits.readsPerTick; reads++) {
      this.hal.adc.read(counts, block);
      if (block.frames === 0) return;
      // The index tells of what the converter did not notice itself.
      const lost = Math.max(
        block.lost,
        this.recorder.sample > 0 ? block.first - this.recorder.sample : 0,
      );
      if (lost > 0) {
        this.health.overruns++;
        this.health.lostFrames += lost;
        this.watch.restart();
      }
      this.framesAt = this.now;
      this.time.anchor(block);
      this.watch.push(counts, block.frames, this.recorder.state === 'watching');
      this.recorder.push(counts, block.frames, block.first);
      this.rows.push(counts, block.frames, block.first);
    }
  }

  /** Gathers what the parts have counted. */
  private count(): void {
    const { health, ring, courier, watch, time } = this;
    health.dropped = ring.dropped;
    health.flashErrors = ring.errors + this.notebook.errors;
    health.linkRetries = courier.retries;
    health.resends = courier.resends;
    health.clockSteps = time.steps;
    health.driftPpm = time.driftPpm;
    health.clockOffsetMicros = time.correctionMicros;
    health.watchdog = this.notebook.watchdog;
    health.oddMessages = this.desk.oddMessages + courier.oddKeeps;
    health.clipped = watch.clippedCounts;
    health.stuckBits = watch.stuckLooks;
    health.dropouts = watch.dropoutLooks;
    health.swapped = watch.swappedLooks;
    health.flags = watch.flags;
  }

  private tell(): void {
    const due = this.now - this.stateAt >= limits.stateEveryMs * 1_000;
    // A server that waits for what is gone must hear of it at once.
    const { oldest } = this.courier;
    const gone = oldest > this.oldestTold && oldest > this.ring.kept;
    if (due || gone || this.stateName() !== this.stateTold) this.sendState();
    const { batch } = this.rows;
    if (this.now - this.rowsAt < limits.rowsEveryMs * 1_000 && !batch.full) return;
    this.rowsAt = this.now;
    if (batch.count > 0 && this.notebook.settings.rows === 1) {
      const { rowBytes } = this;
      batch.write(rowBytes, this.boot, this.time.ofSample(batch.firstEnd));
      this.hal.link.send('rows', rowBytes.bytes, rowBytes.length);
    }
    batch.clear();
  }

  private stateName(): 'online' | 'arc' | 'offline' {
    if (this.stopped) return 'offline';
    return this.recorder.state === 'capturing' ? 'arc' : 'online';
  }

  private sendState(): boolean {
    const { talk, ring } = this;
    const state = this.stateName();
    talk.reset();
    talk.map(8);
    talk.entry('v', 1);
    talk.entry('boot', this.boot);
    talk.text('state');
    talk.text(state);
    talk.entry('time', this.time.at(this.now));
    talk.entry('sample', this.recorder.sample);
    talk.entry('oldest', this.courier.oldest);
    this.oldestTold = this.courier.oldest;
    talk.entry('newest', ring.newest);
    talk.text('health');
    writeHealth(talk, this.health);
    if (!this.hal.link.send('state', talk.bytes, talk.length)) return false;
    this.stateAt = this.now;
    this.stateTold = state;
    return true;
  }

  private writeAbout(): void {
    const { talk, identity } = this;
    const { about } = this.hal.adc;
    talk.reset();
    talk.map(identity.at === null ? 9 : 10);
    talk.entry('v', 1);
    talk.entry('boot', this.boot);
    this.word('name', identity.name);
    talk.entry('pairs', about.pairs);
    talk.text('rate');
    talk.float64(about.rateHz);
    talk.entry('bits', about.bits);
    talk.text('scale');
    talk.array(about.scale.length);
    for (const scale of about.scale) talk.float64(scale);
    if (identity.at !== null) this.word('at', identity.at);
    this.word('fw', firmwareName);
    this.word('site', identity.site);
  }

  private word(key: string, text: string): void {
    this.talk.text(key);
    this.talk.text(text);
  }

  private selfTest(): SelfTest {
    return {
      adc: this.now - this.framesAt < limits.adcSilentMs * 500,
      flash: this.notebook.write(),
      clock: Math.abs(this.time.driftPpm) < limits.clockDriftPpm,
      channels: this.watch.flags === 0,
    };
  }
}

/** The last will: what the broker tells for a sensor that cannot. */
export function lastWill(): Uint8Array {
  const writer = new CborWriter(32);
  writer.map(2);
  writer.entry('v', 1);
  writer.text('state');
  writer.text('lost');
  return writer.bytes.slice(0, writer.length);
}
