import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { KeptFeeder } from '../../../shared/protocol/feeder.ts';
import type { StoredCircuit, StoredPlate } from '../../../shared/protocol/http.ts';
import type { ArcWeld } from '../../../shared/protocol/jobs.ts';
import type { Arc, OtherLoad, Sag, Supply, Verdict } from '../../../shared/protocol/judgement.ts';
import type { About } from '../../../shared/protocol/messages.ts';
import type { CheckAbout, CheckResult } from '../../../shared/protocol/outlet-check.ts';
import type { Plate } from '../../../shared/protocol/plate.ts';
import type { SupplyEvidence } from '../../../shared/rules/facts.ts';
import type { OutletCheck } from '../../../shared/rules/outlet-check-state.ts';
import type { EpochMicros, SampleIndex } from '../../../shared/units.ts';
import type { RowBatch } from '../../../shared/watch/contract.ts';
import type { JobsStore } from './jobs-store.ts';
import type { AuditStore, PeopleStore } from './people-store.ts';
import type { Quarantined, QuarantineStore } from './quarantine.ts';
import type { SettingsStore } from './settings-store.ts';
import type { StockStore } from './stock-store.ts';

/** Where a sensor's stream stands in the store. */
export interface Cursor {
  sensor: string;
  /** All numbered messages up to this one are stored; the value of `keep`. */
  kept: number;
  /** Arcs that begin before this sample of this boot are stored: where a restart takes up. */
  settledBoot: number;
  settledSample: SampleIndex;
}

export interface SensorRecord extends Cursor {
  site: string;
  about: About;
  circuit: number | null;
  plate: number | null;
}

export interface Block {
  sensor: string;
  boot: number;
  seq: number;
  first: SampleIndex;
  time: EpochMicros;
  n: number;
  lost: number;
  flags: number;
  /** Interleaved counts v1, i1, v2 … */
  data: Int16Array | Int32Array;
}

/** Half-cycle rows of one stretch, ends in samples of the boot. */
export interface RowsChunk {
  sensor: string;
  boot: number;
  batch: RowBatch;
}

/** What one second of a sensor's rows came to; a column a pair. */
export interface Second {
  sensor: string;
  timeMs: number;
  hertz: number;
  voltsMin: number[];
  voltsMax: number[];
  ampsMin: number[];
  ampsMax: number[];
}

export interface NewArc {
  sensor: string;
  boot: number;
  start: SampleIndex;
  end: SampleIndex;
  startedUs: EpochMicros;
  endedUs: EpochMicros;
  arc: Arc;
  says: string;
  plate: Plate | null;
  circuit: Circuit | null;
  /** Of that plate and circuit as they are stored; null where there was none, or no number yet. */
  plateVersion: number | null;
  circuitVersion: number | null;
  rateHz: number;
  pairs: number;
  /** As this arc was judged by it; null of arcs stored before it was kept. */
  supply: SupplyEvidence | null;
  /** The stored circuit that the sensor hung on, and at which end of it. */
  hung: { circuit: number; at: 'outlet' | 'machine' } | null;
  /** The job it was welded for; left out, or null, where none was set up. */
  weld?: ArcWeld | null;
}

export interface ArcRecord extends NewArc {
  id: number;
  acknowledged: { by: string; atUs: EpochMicros } | null;
  /** The same weld as the sensor at the circuit's other end saw it. */
  twin: number | null;
  /** The twin at the machine whose verdict counts for the weld: this one raises no flag. */
  countedBy: number | null;
}

export interface NewSag {
  sensor: string;
  boot: number;
  start: SampleIndex;
  startedUs: EpochMicros;
  sag: Sag;
}

/** A supply as one pair saw it when an arc had ended. */
export interface NewSupply {
  sensor: string;
  boot: number;
  /** End of the arc. */
  sample: SampleIndex;
  atUs: EpochMicros;
  /** What lay between the mains and the sensor, as it was described then (ingest/wiring-key.ts). */
  wiring: string;
  /** 1-based. */
  pair: number;
  supply: Supply;
}

/** Something else that switched. */
export interface NewOtherLoad {
  sensor: string;
  boot: number;
  sample: SampleIndex;
  atUs: EpochMicros;
  event: OtherLoad;
}

/** What one commit carries: all of it is on disk when `commit` returns, or none. */
export interface Batch {
  blocks: Block[];
  rows: RowsChunk[];
  seconds: Second[];
  arcs: NewArc[];
  sags: NewSag[];
  supplies: NewSupply[];
  otherLoads: NewOtherLoad[];
  cursors: Cursor[];
  quarantined: Quarantined[];
}

export interface ArcQuery {
  sensor?: string | undefined;
  verdict?: Verdict | undefined;
  job?: number | undefined;
  setUp?: number | undefined;
  /** Only arcs older than this one. */
  before?: { startedUs: EpochMicros; id: number } | undefined;
  limit: number;
}

export interface SagQuery {
  sensor: string;
  fromUs: EpochMicros;
  toUs: EpochMicros;
  limit: number;
}

/** Of each pair the last estimate in every bucket of time. */
export interface SupplyQuery {
  sensor: string;
  fromUs: EpochMicros;
  toUs: EpochMicros;
  bucketUs: number;
}

/** The estimates of a wiring's first time. */
export interface FirstSupplies {
  sensor: string;
  wiring: string;
  spanUs: number;
  limit: number;
}

export type OtherLoadQuery = SagQuery;

/** A check under way: all that is needed to go on with it after a restart. */
export interface RunningCheck {
  check: OutletCheck;
  /** Whether the voltage was seen, which says what a pair measures. */
  settled: boolean;
  /** What it is of, whatever hangs on the sensor; absent of checks that an older server kept. */
  subject?: CheckSubject;
  /** What was stored of all that when it began: its end where that changes. */
  stood?: string;
  /** It is of something else than hangs on the sensor: arcs are judged by that till it ends. */
  apart?: boolean;
}

/** The machine and the circuit that a person says are there, the circuit with its cords of now. */
export interface CheckSubject {
  circuit: StoredCircuit;
  plate: StoredPlate;
  /** The stored circuit has other cords. */
  otherCords: boolean;
}

/** An outlet check; with neither a result nor a running state it was stopped. */
export interface CheckRecord {
  id: number;
  /** Null of a check from a recording. */
  sensor: string | null;
  about: CheckAbout;
  result: CheckResult | null;
  running: RunningCheck | null;
}

export interface CheckQuery {
  sensor?: string | undefined;
  limit: number;
}

/** One bucket of history: lowest and highest of each pair; null where nothing was told. */
export interface Bucket {
  index: number;
  voltsMin: (number | null)[];
  voltsMax: (number | null)[];
  ampsMin: (number | null)[];
  ampsMax: (number | null)[];
}

export interface SweepResult {
  blocks: number;
  rows: number;
  seconds: number;
  sags: number;
  supplies: number;
  otherLoads: number;
}

/**
 * The server's memory, synchronous: a commit is one transaction and there is one writer. Kept in
 * SQLite, or in memory for tests and for a look without a trace; one suite of tests holds for both.
 */
export interface Store {
  readonly people: PeopleStore;
  readonly audit: AuditStore;
  readonly settings: SettingsStore;
  readonly circuits: StockStore<Circuit>;
  readonly plates: StockStore<Plate>;
  readonly feeders: StockStore<KeptFeeder>;
  readonly quarantine: QuarantineStore;
  /** Does all of a piece of work or, where it throws, none; one inside another is part of it. */
  together<Result>(work: () => Result): Result;
  readonly jobs: JobsStore;

  /** Those whose words can be read; one that is left out comes back when it tells them anew. */
  sensors(): SensorRecord[];
  /** New sensor, or new words of a known one (each boot keeps its own `about`). */
  saveAbout(sensor: string, site: string, about: About): void;
  /** Words of a boot that is not the newest. */
  saveBoot(sensor: string, about: About): void;
  /** The `about` of one boot: its scale is what turns stored counts into volts. */
  about(sensor: string, boot: number): About | null;
  /** False when sensor, circuit or plate is unknown, or one of them retired. */
  assign(sensor: string, circuit: number | null, plate: number | null): boolean;

  /** Gives the arcs that were new, with their ids and twins; one that is there already stays. */
  commit(batch: Batch): ArcRecord[];
  /** Does what `commit` does and takes it back: throws where a record cannot be stored. */
  rehearse(batch: Batch): void;
  /** Blocks of a boot that hold or follow a sample, in stream order. */
  blocks(sensor: string, boot: number, from: SampleIndex, to: SampleIndex): Block[];
  /** The last `count` blocks before a sample, in stream order. */
  blocksBefore(sensor: string, boot: number, sample: SampleIndex, count: number): Block[];
  rows(sensor: string, boot: number, from: SampleIndex, to: SampleIndex): RowBatch[];
  /** End of the last stored row of a boot; −1 when there is none. */
  rowsEnd(sensor: string, boot: number): SampleIndex;
  history(sensor: string, fromMs: number, toMs: number, bucketMs: number): Bucket[];

  arcs(query: ArcQuery): ArcRecord[];
  arc(id: number): ArcRecord | null;
  /** Underpowered arcs of a sensor that nobody has acknowledged, and no twin is counted for. */
  flags(sensor: string): number;
  /** Null when there is no such arc. The first name stays. */
  acknowledge(id: number, by: string, atUs: EpochMicros): ArcRecord | null;

  sags(query: SagQuery): NewSag[];

  /** In order of time. */
  supplies(query: SupplyQuery): NewSupply[];
  /** Newest first, all pairs. */
  newestSupplies(sensor: string, limit: number): NewSupply[];
  firstSupplies(query: FirstSupplies): NewSupply[];
  /** In order of time. */
  otherLoads(query: OtherLoadQuery): NewOtherLoad[];

  addCheck(sensor: string | null, about: CheckAbout): number;
  /** How far a check has come; null: it was stopped. A judged one stays as it is. */
  saveCheck(id: number, running: RunningCheck | null): void;
  /** Those that ran when the store was last closed, or cut off. */
  runningChecks(): CheckRecord[];
  /** The first result stays. */
  judgeCheck(id: number, result: CheckResult): void;
  check(id: number): CheckRecord | null;
  /** Those with a result, newest first. */
  checks(query: CheckQuery): CheckRecord[];

  /** Gives up what is beyond the limits, a bounded piece a call. */
  sweep(waveformBytes: number, historyFromMs: number): SweepResult;
  close(): void;
}
