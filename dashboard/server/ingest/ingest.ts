import {
  decodeMessage,
  encodeMessage,
  type Refused,
  type Rows,
} from '../../../shared/protocol/messages.ts';
import {
  formatTopic,
  parseSensorId,
  parseTopic,
  sensorId,
} from '../../../shared/protocol/topics.ts';
import { limits } from '../limits.ts';
import type { Floor } from '../live/floor.ts';
import type { Batch, CheckSubject, Second, SensorRecord, Store } from '../store/store.ts';
import { SensorStream } from './sensor-stream.ts';
import type { Assigned, MakeWatch } from './watching.ts';

/** The way to the sensors: MQTT, or the broker in this process. */
export interface Link {
  publish(topic: string, payload: Uint8Array): void;
}

export type IngestFault = Refused['fault'] | 'topic' | 'unknown-sensor' | 'full' | 'commit';

interface Fault {
  fault: IngestFault;
  says: string;
}

export interface IngestSetup {
  store: Store;
  floor: Floor;
  link: Link;
  makeWatch: MakeWatch;
  /** What hangs on a sensor that is seen for the first time; null: nothing known. */
  assignNew?: (sensor: string) => { circuit: number; plate: number | null } | null;
  /** One line for the log; a fault is said once a minute at the most. */
  say: (line: string) => void;
}

const emptyBatch = (): Batch => ({
  blocks: [],
  rows: [],
  seconds: [],
  arcs: [],
  sags: [],
  supplies: [],
  otherLoads: [],
  cursors: [],
});

/**
 * Messages in, one transaction for all that came within a twentieth of a second, then `keep` to
 * each sensor of it. Nothing that a sensor was told to forget is only in memory.
 */
export class Ingest {
  readonly counts = {
    messages: 0,
    bytes: 0,
    known: 0,
    blocks: 0,
    arcs: 0,
    commits: 0,
    commitMs: 0,
    faults: {} as Partial<Record<IngestFault, number>>,
  };
  readonly #setup: IngestSetup;
  readonly #streams = new Map<string, SensorStream>();
  readonly #changed = new Set<SensorStream>();
  /** The last `keep` of each. A sensor sends again what a repeated one shows to be missing. */
  readonly #told = new Map<SensorStream, number>();
  /** Sensors that seem not to know their `keep`, or lost a message; told at their next state. */
  readonly #owed = new Set<SensorStream>();
  /** Sensors that are told at the next commit, whether it moves on or not. */
  readonly #greeted = new Set<SensorStream>();
  #batch = emptyBatch();
  #pendingBytes = 0;
  #timer: NodeJS.Timeout | null = null;
  #saidMs = Number.NEGATIVE_INFINITY;
  #open = false;

  constructor(setup: IngestSetup) {
    this.#setup = setup;
    setup.floor.subjectChanged = (sensor) => this.#reassignOne(sensor);
  }

  /** Whether what comes is taken: started, and the store takes commits. */
  get ready(): boolean {
    return this.#open && this.#pendingBytes < limits.pendingBytes;
  }

  /** Takes up where the last start ended, then tells every sensor how far that was. */
  start(): void {
    for (const record of this.#setup.store.sensors()) {
      this.#setup.floor.about(record, record.site);
      const stream = this.#stream(record);
      stream.rebuild();
      this.#greeted.add(stream);
      this.#changed.add(stream);
    }
    this.#open = true;
    this.flush();
  }

  /** Last commit; what comes later is left to the sensors. */
  stop(): void {
    this.#open = false;
    this.flush();
    if (this.#timer) clearTimeout(this.#timer);
  }

  receive(topic: string, payload: Uint8Array): void {
    if (!this.#open) return;
    this.counts.messages++;
    this.counts.bytes += payload.length;
    const refused = this.#take(topic, payload);
    if (refused) this.#fault(refused.fault, `${topic}: ${refused.says}`);
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
    if (this.#changed.size === 0 && this.#batch.seconds.length === 0) return;
    const batch = this.#batch;
    const streams = [...this.#changed];
    batch.cursors = streams.map((stream) => stream.cursor);
    const started = performance.now();
    try {
      const arcs = this.#setup.store.commit(batch);
      this.counts.commits++;
      this.counts.commitMs += performance.now() - started;
      this.counts.blocks += batch.blocks.length;
      this.counts.arcs += arcs.length;
      this.#batch = emptyBatch();
      this.#pendingBytes = 0;
      this.#changed.clear();
      for (const stream of streams) this.#keep(stream);
      this.#setup.floor.stored(arcs);
    } catch (error) {
      this.#fault('commit', `not stored: ${error instanceof Error ? error.message : error}`);
      this.#timer = setTimeout(() => this.flush(), limits.commitRetryMs);
    }
  }

  #take(topic: string, payload: Uint8Array): Fault | null {
    const parsed = parseTopic(topic);
    if (!parsed) return { fault: 'topic', says: 'no topic of ours' };
    const { site, sensor, kind } = parsed;
    const id = sensorId(site, sensor);
    if (kind === 'about') return this.#about(id, site, payload);
    const stream = this.#streams.get(id);
    if (!stream) return { fault: 'unknown-sensor', says: 'it has not said what it is' };
    if (kind === 'wave' || kind === 'arc') return this.#numbered(stream, kind, payload);
    if (kind === 'state') return this.#state(stream, payload);
    return kind === 'rows' ? this.#rows(stream, payload) : null;
  }

  #about(id: string, site: string, payload: Uint8Array): Fault | null {
    const decoded = decodeMessage('about', payload);
    if ('fault' in decoded) return decoded;
    const { store, floor } = this.#setup;
    const about = decoded.message;
    if (about.scale.length !== 2 * about.pairs)
      return { fault: 'wrong-shape', says: `${about.scale.length} scales, ${about.pairs} pairs` };
    if (!this.#streams.has(id) && this.#streams.size >= limits.sensors)
      return { fault: 'full', says: `${limits.sensors} sensors are known, the most there may be` };
    store.saveAbout(id, site, about);
    const assigned = this.#streams.has(id) ? null : this.#setup.assignNew?.(id);
    if (assigned) store.assign(id, assigned.circuit, assigned.plate);
    const record = store.sensors().find((one) => one.sensor === id)!;
    const stream = this.#streams.get(id) ?? this.#stream(record);
    stream.about = about;
    floor.about(record, site);
    // It came (back): it is told how far its stream is stored, and sends what is missing.
    this.#greeted.add(stream);
    this.#change(stream);
    return null;
  }

  #numbered(stream: SensorStream, kind: 'wave' | 'arc', payload: Uint8Array): Fault | null {
    if (this.#pendingBytes > limits.pendingBytes)
      return { fault: 'full', says: 'the store is behind; sensors keep what they have' };
    const decoded = decodeMessage(kind, payload);
    if ('fault' in decoded) return decoded;
    const taken = stream.take(decoded.message);
    if (taken === 'full') return { fault: 'full', says: `too many wait for an earlier one` };
    if (taken === 'known') this.counts.known++;
    if (taken === 'known' || stream.waiting > 0) this.#owed.add(stream);
    this.#pendingBytes += payload.length;
    this.#change(stream);
    return null;
  }

  #state(stream: SensorStream, payload: Uint8Array): Fault | null {
    const decoded = decodeMessage('state', payload);
    if ('fault' in decoded) return decoded;
    this.#setup.floor.state(stream.id, decoded.message);
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
    if (decoded.message.volts.length !== stream.about.pairs)
      return { fault: 'wrong-shape', says: `rows of another number of pairs` };
    this.#setup.floor.rows(stream.id, decoded.message);
    this.#batch.seconds.push(second(stream.id, decoded.message));
    this.#later();
    return null;
  }

  #stream(record: SensorRecord): SensorStream {
    const { store, makeWatch, floor } = this.#setup;
    const assigned = this.#assigned(record);
    const stream = new SensorStream(record, assigned, store, makeWatch, () => this.#batch, floor);
    this.#streams.set(record.sensor, stream);
    return stream;
  }

  #assigned(record: SensorRecord): Assigned {
    const { store, floor } = this.#setup;
    const subject = floor.checks.subject(record.sensor);
    if (subject) return byCheck(subject);
    const plate = record.plate === null ? null : store.plates.one(record.plate);
    const circuit = record.circuit === null ? null : store.circuits.one(record.circuit);
    return {
      plate: plate?.value ?? null,
      circuit: circuit?.value ?? null,
      plateVersion: plate?.version ?? null,
      circuitVersion: circuit?.version ?? null,
      circuitId: record.circuit,
    };
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

  #fault(fault: IngestFault, says: string): void {
    this.counts.faults[fault] = (this.counts.faults[fault] ?? 0) + 1;
    // A new sensor's first rows overtake its `about`, which a broker retains before it hands it on.
    if (fault === 'unknown-sensor') return;
    if (performance.now() - this.#saidMs < 60_000) return;
    this.#saidMs = performance.now();
    this.#setup.say(says);
  }
}

/** While a check runs its arcs are of what a person says is there, cord and all. */
const byCheck = ({ circuit, plate, otherCords }: CheckSubject): Assigned => ({
  plate: plate.plate,
  circuit: circuit.circuit,
  plateVersion: plate.version,
  circuitVersion: otherCords ? null : circuit.version,
  circuitId: circuit.id,
});

function second(sensor: string, rows: Rows): Second {
  const lowest = (column: Float32Array) => column.reduce((low, value) => Math.min(low, value));
  const highest = (column: Float32Array) => column.reduce((high, value) => Math.max(high, value));
  return {
    sensor,
    timeMs: rows.time / 1e3,
    hertz: rows.hz[rows.n - 1]!,
    voltsMin: rows.volts.map(lowest),
    voltsMax: rows.volts.map(highest),
    ampsMin: rows.amps.map(lowest),
    ampsMax: rows.amps.map(highest),
  };
}
