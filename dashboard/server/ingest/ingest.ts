import { assert } from '../../../shared/assert.ts';
import { messageLimits } from '../../../shared/protocol/message-limits.ts';
import {
  decodeMessage,
  encodeMessage,
  isAbout,
  numberOf,
} from '../../../shared/protocol/messages.ts';
import {
  formatTopic,
  parseSensorId,
  parseTopic,
  sensorId,
} from '../../../shared/protocol/topics.ts';
import { limits } from '../limits.ts';
import type { Floor } from '../live/floor.ts';
import type { Quarantined } from '../store/quarantine.ts';
import type { SensorRecord, Store } from '../store/store.ts';
import { errorSays, isStoreFault } from '../store/store-fault.ts';
import { assignedTo } from './assigned.ts';
import { emptyBatch } from './batch.ts';
import { type Fault, FaultLog } from './fault-log.ts';
import { behindBarrier } from './live-barrier.ts';
import { second } from './second.ts';
import { type LiveEvents, SensorStream, type StreamHost } from './sensor-stream.ts';
import { storeBatch } from './storing.ts';
import type { Assigned, MakeWatch } from './watching.ts';

/** The way to the sensors: MQTT, or the broker in this process. */
export interface Link {
  publish(topic: string, payload: Uint8Array): void;
}

export interface IngestSetup {
  store: Store;
  floor: Floor;
  link: Link;
  makeWatch: MakeWatch;
  /** What hangs on a sensor that is seen for the first time; null: nothing known. */
  assignNew?: (sensor: string) => { circuit: number; plate: number | null } | null;
  /** One line for the log; each sort of fault is said once a minute at the most. */
  say: (line: string) => void;
  /** Of records that are put aside; the host's own where none is given. */
  clock?: () => number;
}

/**
 * Messages in, one transaction for all that came within a twentieth of a second, then `keep` to
 * each sensor of it. Nothing that a sensor was told to forget is only in memory.
 *
 * Nothing that a client sends gets past `receive` but as a count, a line and, where it is numbered,
 * a record that was put aside. Only a store that takes nothing stops this, and then says so.
 */
export class Ingest {
  readonly faults: FaultLog;
  readonly counts;
  readonly #setup: IngestSetup;
  readonly #live: LiveEvents;
  readonly #host: StreamHost;
  readonly #streams = new Map<string, SensorStream>();
  readonly #changed = new Set<SensorStream>();
  /** The last `keep` of each. A sensor sends again what a repeated one shows to be missing. */
  readonly #told = new Map<SensorStream, number>();
  /** Sensors that seem not to know their `keep`, or lost a message; told at their next state. */
  readonly #owed = new Set<SensorStream>();
  /** Sensors that are told at the next commit, whether it moves on or not. */
  readonly #greeted = new Set<SensorStream>();
  /** Sensors' words by topic that a broken store did not take: they come once. */
  readonly #unsaved = new Map<string, Uint8Array>();
  #batch = emptyBatch();
  #pendingBytes = 0;
  #timer: NodeJS.Timeout | null = null;
  #retryMs: number = limits.commitRetryMs;
  /** Why the store takes nothing; null while it does. */
  #broken: string | null = null;
  #open = false;

  constructor(setup: IngestSetup) {
    this.#setup = setup;
    this.faults = new FaultLog(setup.say);
    this.counts = {
      ...{ messages: 0, bytes: 0, known: 0, blocks: 0, arcs: 0, commits: 0, commitMs: 0 },
      quarantined: 0,
      faults: this.faults.counts,
    };
    this.#live = behindBarrier(setup.floor, (sensor, error) => this.#threw(sensor, 'live', error));
    this.#host = {
      batch: () => this.#batch,
      spoiled: (block, error) => {
        const { sensor, boot, seq } = block;
        const bytes = encodeMessage('wave', { v: 1, ...block });
        this.#putAside({ sensor, kind: 'wave', boot, seq, reason: errorSays(error), bytes });
        this.#threw(sensor, 'wave', error);
      },
      unjudged: ({ sensor }, error) => this.#threw(sensor, 'wave', error),
    };
    setup.floor.subjectChanged = (sensor) => this.#reassignOne(sensor);
  }

  /** Whether what comes is taken: started, and the store takes commits. */
  get ready(): boolean {
    return this.notReady === null;
  }

  /** Why not, for whoever watches over the server. */
  get notReady(): string | null {
    if (!this.#open) return 'not started';
    if (this.#broken !== null) return `nothing is being stored: ${this.#broken}`;
    return this.#pendingBytes < limits.pendingBytes ? null : 'the store is behind';
  }

  /** Takes up where the last start ended, then tells every sensor how far that was. */
  start(): void {
    for (const record of this.#setup.store.sensors())
      this.#tried(record.sensor, 'about', () => this.#takeUp(record));
    this.#open = true;
    this.flush();
  }

  /** Last commit; what comes later is left to the sensors. */
  stop(): void {
    this.#open = false;
    this.flush();
    if (this.#timer) clearTimeout(this.#timer);
  }

  /** Never throws, whatever the payload is. */
  receive(topic: string, payload: Uint8Array): void {
    if (!this.#open) return;
    this.counts.messages++;
    const parsed = parseTopic(topic);
    const id = parsed && sensorId(parsed.site, parsed.sensor);
    const kind = parsed?.kind ?? 'none';
    const known = id !== null && this.#streams.has(id) ? id : 'unknown';
    const refused = this.#tried(known, kind, () => this.#take(topic, payload));
    if (!refused) return;
    const { fault, says } = refused;
    // A new sensor's first rows overtake its `about`, which a broker retains before it hands it on.
    const quiet = fault === 'unknown-sensor';
    this.faults.note(known, kind, { fault, says: `${topic}: ${says}` }, quiet);
  }

  /** Circuits or plates changed: watches and floor are told of what hangs on each sensor now. */
  reassign(): void {
    const records = this.#setup.store.sensors();
    for (const record of records) this.#streams.get(record.sensor)?.assign(this.#assigned(record));
    this.#setup.floor.assigned(records);
  }

  #reassignOne(sensor: string): void {
    const record = this.#setup.store.sensors().find((one) => one.sensor === sensor);
    if (record) this.#streams.get(sensor)?.assign(this.#assigned(record));
  }

  /** Stores what has come, and tells the sensors of it. */
  flush(): void {
    if (this.#timer) clearTimeout(this.#timer);
    this.#timer = null;
    this.#saveWords();
    const batch = this.#batch;
    const empty = batch.seconds.length + batch.quarantined.length === 0;
    if (this.#changed.size === 0 && empty && this.#broken === null) return;
    const streams = [...this.#changed];
    batch.cursors = streams.map((stream) => stream.cursor);
    const started = performance.now();
    const stored = storeBatch(this.#setup.store, batch, this.#nowUs());
    if ('broken' in stored) {
      this.#takesNothing(stored.broken);
      this.#retryMs = Math.min(2 * this.#retryMs, limits.commitRetryMostMs);
      return;
    }
    this.#takesAgain();
    this.counts.commits++;
    this.counts.commitMs += performance.now() - started;
    this.counts.blocks += batch.blocks.length;
    this.counts.arcs += stored.arcs.length;
    this.#batch = emptyBatch();
    this.#pendingBytes = 0;
    this.#changed.clear();
    for (const record of stored.aside) this.#saidAside(record);
    const astray = new Set(stored.aside.map(({ sensor, kind }) => `${sensor} ${kind}`));
    for (const stream of streams) if (!astray.has(`${stream.id} cursor`)) this.#keep(stream);
    for (const arc of stored.arcs)
      this.#tried(arc.sensor, 'live', () => this.#setup.floor.stored([arc]));
  }

  #takeUp(record: SensorRecord): void {
    assert(isAbout(record.about), `${record.sensor} is stored with words that are none`);
    this.#tried(record.sensor, 'live', () => this.#setup.floor.about(record, record.site));
    const stream = this.#stream(record);
    this.#greeted.add(stream);
    this.#changed.add(stream);
    stream.rebuild();
  }

  #take(topic: string, payload: Uint8Array): Fault | null {
    if (!(payload instanceof Uint8Array)) return { fault: 'no-cbor', says: 'no bytes' };
    this.counts.bytes += payload.length;
    const parsed = parseTopic(topic);
    if (!parsed) return { fault: 'topic', says: 'no topic of ours' };
    const { site, sensor, kind } = parsed;
    const id = sensorId(site, sensor);
    if (kind === 'about') return this.#about(id, topic, payload);
    const stream = this.#streams.get(id);
    if (!stream) return { fault: 'unknown-sensor', says: 'it has not said what it is' };
    if (kind === 'wave' || kind === 'arc') return this.#numbered(stream, kind, payload);
    if (kind === 'state') return this.#state(stream, payload);
    if (kind === 'rows') return this.#rows(stream, payload);
    const decoded = decodeMessage(kind, payload);
    return 'fault' in decoded ? decoded : null;
  }

  #about(id: string, topic: string, payload: Uint8Array): Fault | null {
    const decoded = decodeMessage('about', payload);
    if ('fault' in decoded) return decoded;
    if (!this.#streams.has(id) && this.#streams.size >= limits.sensors)
      return { fault: 'full', says: `${limits.sensors} sensors are known, the most there may be` };
    // Only what is known of it is kept: a newer sensor may say more.
    const { v, boot, name, pairs, rate, bits, scale, at, fw, site } = decoded.message;
    const about = { v, boot, name, pairs, rate, bits, scale, ...(at && { at }), fw, site };
    const place = parseSensorId(id)!;
    const { store, floor } = this.#setup;
    try {
      store.saveAbout(id, place.site, about);
      const assigned = this.#streams.has(id) ? null : this.#setup.assignNew?.(id);
      if (assigned) store.assign(id, assigned.circuit, assigned.plate);
    } catch (error) {
      if (isStoreFault(error) && this.#unsaved.size < limits.sensors)
        this.#unsaved.set(topic, payload.slice());
      throw error;
    }
    const record = store.sensors().find((one) => one.sensor === id)!;
    const stream = this.#streams.get(id) ?? this.#stream(record);
    stream.about = about;
    this.#tried(id, 'live', () => floor.about(record, place.site));
    // It came (back): it is told how far its stream is stored, and sends what is missing.
    this.#greeted.add(stream);
    this.#change(stream);
    return null;
  }

  #numbered(stream: SensorStream, kind: 'wave' | 'arc', payload: Uint8Array): Fault | null {
    if (this.#pendingBytes > limits.pendingBytes)
      return { fault: 'full', says: 'the store is behind; sensors keep what they have' };
    const decoded = decodeMessage(kind, payload);
    const refused = 'fault' in decoded ? decoded : null;
    const seq = refused ? numberOf(payload) : null;
    if (refused && seq === null) return refused;
    const message = 'message' in decoded ? decoded.message : { seq: seq!, aside: true as const };
    const taken = stream.take(message);
    if (taken === 'full') return { fault: 'full', says: `too many wait for an earlier one` };
    if (taken === 'known') this.counts.known++;
    else if (refused)
      this.#putAside({
        ...{ sensor: stream.id, kind, boot: null, seq },
        ...{ reason: refused.says, bytes: payload.slice() },
      });
    if (taken === 'known' || stream.waiting > 0) this.#owed.add(stream);
    this.#pendingBytes += payload.length;
    this.#change(stream);
    return refused;
  }

  #state(stream: SensorStream, payload: Uint8Array): Fault | null {
    const decoded = decodeMessage('state', payload);
    if ('fault' in decoded) return decoded;
    this.#tried(stream.id, 'live', () => this.#setup.floor.state(stream.id, decoded.message));
    if (!('boot' in decoded.message)) return null;
    const before = stream.cursor;
    stream.told(decoded.message);
    const { kept, settledSample } = stream.cursor;
    const owed = this.#owed.delete(stream);
    if (owed) this.#greeted.add(stream);
    if (owed || kept !== before.kept || settledSample !== before.settledSample)
      this.#change(stream);
    return null;
  }

  #rows(stream: SensorStream, payload: Uint8Array): Fault | null {
    const decoded = decodeMessage('rows', payload);
    if ('fault' in decoded) return decoded;
    const { message: rows } = decoded;
    const { pairs, rate } = stream.about;
    if (rows.volts.length !== pairs)
      return { fault: 'wrong-shape', says: `rows of another number of pairs` };
    if (rows.end[rows.n - 1]! - rows.end[0]! > messageLimits.rowsSpanS * rate)
      return { fault: 'wrong-shape', says: `rows of more than ${messageLimits.rowsSpanS} s` };
    this.#tried(stream.id, 'live', () => this.#setup.floor.rows(stream.id, rows));
    if (this.#batch.seconds.length >= limits.pendingSeconds)
      return { fault: 'full', says: 'the store is behind; history of this second is left out' };
    this.#batch.seconds.push(second(stream.id, rows));
    this.#later();
    return null;
  }

  #stream(record: SensorRecord): SensorStream {
    const { store, makeWatch } = this.#setup;
    const assigned = this.#assigned(record);
    const given = [record, assigned, store, makeWatch] as const;
    const stream = new SensorStream(...given, this.#host, this.#live);
    this.#streams.set(record.sensor, stream);
    return stream;
  }

  #assigned(record: SensorRecord): Assigned {
    return assignedTo(record, this.#setup.store, this.#setup.floor);
  }

  #change(stream: SensorStream): void {
    this.#changed.add(stream);
    this.#later();
  }

  #later(): void {
    this.#timer ??= setTimeout(() => this.flush(), limits.commitAfterMs);
  }

  #keep(stream: SensorStream): void {
    const { kept } = stream.cursor;
    const greeted = this.#greeted.delete(stream);
    if (!greeted && kept === this.#told.get(stream)) return;
    this.#told.set(stream, kept);
    this.#owed.delete(stream);
    const place = parseSensorId(stream.id)!;
    const topic = formatTopic(place.site, place.sensor, 'keep');
    this.#setup.link.publish(topic, encodeMessage('keep', { v: 1, seq: kept }));
  }

  #nowUs(): number {
    return Math.round((this.#setup.clock ?? Date.now)() * 1_000);
  }

  #putAside(record: Omit<Quarantined, 'atUs'>): void {
    this.#batch.quarantined.push({ ...record, atUs: this.#nowUs() });
    this.counts.quarantined++;
    this.#later();
  }

  /** What the store would not take among others. */
  #saidAside({ sensor, kind, boot, seq, reason }: Quarantined): void {
    this.counts.quarantined++;
    const place = seq === null ? `boot ${boot ?? 'unknown'}` : `number ${seq}`;
    const says = `${sensor}: ${kind}, ${place}, was put aside: ${reason}`;
    this.faults.note(sensor, kind, { fault: 'commit', says });
  }

  /** The barrier: what fails in the house at one message is counted, and the next has its turn. */
  #tried<Value>(sensor: string, kind: string, work: () => Value): Value | null {
    try {
      return work();
    } catch (error) {
      this.#threw(sensor, kind, error);
      return null;
    }
  }

  #threw(sensor: string, kind: string, error: unknown): void {
    const says = `${sensor}: ${kind}: ${errorSays(error)}`;
    const fault = isStoreFault(error) ? 'store' : 'threw';
    this.faults.note(sensor, kind, { fault, says }, fault === 'store');
    if (fault === 'store') this.#takesNothing(errorSays(error));
  }

  /** Words that a broken store did not take, told once more as if they came now. */
  #saveWords(): void {
    const unsaved = [...this.#unsaved];
    this.#unsaved.clear();
    for (const [topic, payload] of unsaved) this.receive(topic, payload);
  }

  #takesNothing(why: string): void {
    this.faults.note('all', 'commit', { fault: 'store', says: why }, true);
    if (this.#broken === null) this.#setup.say(`not stored: ${why}`);
    this.#broken = why;
    this.#timer ??= setTimeout(() => this.flush(), this.#retryMs);
  }

  #takesAgain(): void {
    if (this.#broken !== null) this.#setup.say('stored again: the store takes what comes');
    this.#broken = null;
    this.#retryMs = limits.commitRetryMs;
  }
}
