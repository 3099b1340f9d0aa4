import { assert } from '../../../shared/assert.ts';
import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { KeptFeeder } from '../../../shared/protocol/feeder.ts';
import type { About } from '../../../shared/protocol/messages.ts';
import type { CheckAbout, CheckResult } from '../../../shared/protocol/outlet-check.ts';
import type { Plate } from '../../../shared/protocol/plate.ts';
import { isBroken } from '../../../shared/protocol/verdicts.ts';
import { MemoryJobs } from './memory-jobs.ts';
import { MemoryAudit, MemoryPeople } from './memory-people.ts';
import { MemoryQuarantine } from './memory-quarantine.ts';
import { MemoryStock } from './memory-stock.ts';
import { MemorySupplies } from './memory-supplies.ts';
import { MemorySettings } from './settings-store.ts';
import type {
  ArcQuery,
  ArcRecord,
  Batch,
  Block,
  Bucket,
  CheckQuery,
  CheckRecord,
  FirstSupplies,
  NewSag,
  OtherLoadQuery,
  RowsChunk,
  RunningCheck,
  SagQuery,
  Second,
  SensorRecord,
  Store,
  SupplyQuery,
} from './store.ts';
import { twinOf } from './twins.ts';

/** The store without a disk: what SQLite does, by plain search; nothing outlives the process. */
export class MemoryStore implements Store {
  readonly people = new MemoryPeople();
  readonly audit = new MemoryAudit();
  readonly settings = new MemorySettings();
  readonly circuits = new MemoryStock<Circuit>();
  readonly plates = new MemoryStock<Plate>();
  readonly jobs = new MemoryJobs((sensor) => this.#sensors.has(sensor));
  readonly feeders = new MemoryStock<KeptFeeder>();
  readonly quarantine = new MemoryQuarantine();
  #sensors = new Map<string, SensorRecord>();
  #abouts = new Map<string, About>();
  #blocks: Block[] = [];
  #rows: (RowsChunk & { storedMs: number })[] = [];
  #seconds: Second[] = [];
  #arcs: ArcRecord[] = [];
  #sags: NewSag[] = [];
  #checks: CheckRecord[] = [];
  readonly #supplies = new MemorySupplies();

  sensors(): SensorRecord[] {
    const records = [...this.#sensors.values()];
    return structuredClone(records.sort((a, b) => (a.sensor < b.sensor ? -1 : 1)));
  }

  saveAbout(sensor: string, site: string, about: About): void {
    const none = { circuit: null, plate: null, kept: 0, settledBoot: -1, settledSample: 0 };
    const known = this.#sensors.get(sensor);
    this.#sensors.set(sensor, { sensor, ...none, ...known, site, about: structuredClone(about) });
    this.saveBoot(sensor, about);
  }

  saveBoot(sensor: string, about: About): void {
    this.#abouts.set(`${sensor} ${about.boot}`, structuredClone(about));
  }

  about(sensor: string, boot: number): About | null {
    return this.#abouts.get(`${sensor} ${boot}`) ?? null;
  }

  assign(sensor: string, circuit: number | null, plate: number | null): boolean {
    const record = this.#sensors.get(sensor);
    const there = (stock: MemoryStock<object>, id: number | null) =>
      id === null || stock.one(id)?.retired === false;
    if (!record || !there(this.circuits, circuit) || !there(this.plates, plate)) return false;
    Object.assign(record, { circuit, plate });
    return true;
  }

  commit(batch: Batch): ArcRecord[] {
    const { blocks, rows, seconds, arcs, sags, supplies, otherLoads, cursors } = batch;
    this.rehearse(batch);
    for (const block of blocks) {
      const at = this.#blocks.findIndex((other) => samePlace(other, block));
      if (at >= 0) this.#blocks[at] = block;
      else this.#blocks.push(block);
    }
    this.#rows.push(...rows.map((chunk) => ({ ...chunk, storedMs: Date.now() })));
    this.#seconds.push(...seconds);
    const added = arcs
      .filter((arc) => !this.#arcs.some((other) => sameArc(other, arc)))
      .map((arc, at) => ({ ...arc, id: this.#arcs.length + at + 1, ...unseen }));
    this.#arcs.push(...added);
    for (const arc of added) this.#pairUp(arc);
    for (const sag of sags) if (!this.#sags.some((one) => sameArc(one, sag))) this.#sags.push(sag);
    for (const supply of supplies) this.#supplies.add(supply);
    for (const load of otherLoads) this.#supplies.addLoad(load);
    for (const record of batch.quarantined) this.quarantine.add(record);
    for (const cursor of cursors) Object.assign(this.#sensors.get(cursor.sensor)!, cursor);
    return structuredClone(added);
  }

  rehearse(batch: Batch): void {
    for (const { sensor } of Object.values(batch).flat())
      assert(this.#sensors.has(sensor), `${sensor} was saved before anything of it`);
  }

  blocks(sensor: string, boot: number, from: number, to: number): Block[] {
    const inside = (block: Block) => block.first + block.n > from && block.first < to;
    return this.#ofBoot(sensor, boot).filter(inside);
  }

  blocksBefore(sensor: string, boot: number, sample: number, count: number): Block[] {
    const before = this.#ofBoot(sensor, boot).filter((block) => block.first < sample);
    return before.slice(Math.max(0, before.length - count));
  }

  rows(sensor: string, boot: number, from: number, to: number) {
    return this.#rows
      .filter((chunk) => chunk.sensor === sensor && chunk.boot === boot)
      .map((chunk) => chunk.batch)
      .filter((batch) => batch.end.at(-1)! >= from && batch.end[0]! <= to);
  }

  rowsEnd(sensor: string, boot: number): number {
    const chunks = this.#rows.filter((chunk) => chunk.sensor === sensor && chunk.boot === boot);
    return Math.max(-1, ...chunks.map((chunk) => chunk.batch.end.at(-1)!));
  }

  history(sensor: string, fromMs: number, toMs: number, bucketMs: number): Bucket[] {
    const buckets = new Map<number, Bucket>();
    for (const second of this.#seconds) {
      if (second.sensor !== sensor || second.timeMs < fromMs || second.timeMs >= toMs) continue;
      const index = Math.floor((second.timeMs - fromMs) / bucketMs);
      const empty = { index, voltsMin: [], voltsMax: [], ampsMin: [], ampsMax: [] };
      const bucket: Bucket = buckets.get(index) ?? empty;
      for (const key of ['voltsMin', 'ampsMin', 'voltsMax', 'ampsMax'] as const)
        second[key].forEach((value, pair) => {
          const pick = key.endsWith('Min') ? Math.min : Math.max;
          bucket[key][pair] = pick(bucket[key][pair] ?? value, value);
        });
      buckets.set(index, bucket);
    }
    return [...buckets.values()].sort((a, b) => a.index - b.index);
  }

  arcs({ sensor, verdict, job, setUp, before, limit }: ArcQuery): ArcRecord[] {
    const older = (arc: ArcRecord) =>
      !before ||
      arc.startedUs < before.startedUs ||
      (arc.startedUs === before.startedUs && arc.id < before.id);
    const found = this.#arcs
      .filter((arc) => sensor === undefined || arc.sensor === sensor)
      .filter((arc) => verdict === undefined || arc.arc.verdict === verdict)
      .filter((arc) => job === undefined || arc.weld?.job === job)
      .filter((arc) => setUp === undefined || arc.weld?.setUp === setUp)
      .filter(older)
      .sort((a, b) => b.startedUs - a.startedUs || b.id - a.id);
    return structuredClone(found.slice(0, limit));
  }

  arc(id: number): ArcRecord | null {
    return structuredClone(this.#arcs.find((arc) => arc.id === id) ?? null);
  }

  flags(sensor: string): number {
    return this.#arcs.filter(
      (arc) =>
        arc.sensor === sensor && isBroken(arc.arc.verdict) && !arc.acknowledged && !arc.countedBy,
    ).length;
  }

  acknowledge(id: number, by: string, atUs: number): ArcRecord | null {
    const arc = this.#arcs.find((one) => one.id === id);
    if (arc) arc.acknowledged ??= { by, atUs };
    return structuredClone(arc ?? null);
  }

  sags({ sensor, fromUs, toUs, limit }: SagQuery): NewSag[] {
    return this.#sags
      .filter((sag) => sag.sensor === sensor)
      .filter((sag) => sag.startedUs >= fromUs && sag.startedUs < toUs)
      .sort((a, b) => a.startedUs - b.startedUs)
      .slice(0, limit);
  }

  supplies(query: SupplyQuery) {
    return structuredClone(this.#supplies.list(query));
  }

  newestSupplies(sensor: string, limit: number) {
    return structuredClone(this.#supplies.newest(sensor, limit));
  }

  firstSupplies(query: FirstSupplies) {
    return structuredClone(this.#supplies.first(query));
  }

  otherLoads(query: OtherLoadQuery) {
    return structuredClone(this.#supplies.loads(query));
  }

  addCheck(sensor: string | null, about: CheckAbout): number {
    assert(
      sensor === null || this.#sensors.has(sensor),
      `${sensor} was saved before anything of it`,
    );
    const id = this.#checks.length + 1;
    this.#checks.push(structuredClone({ id, sensor, about, result: null, running: null }));
    return id;
  }

  judgeCheck(id: number, result: CheckResult): void {
    const check = this.#checks[id - 1];
    if (!check) return;
    check.result ??= structuredClone(result);
    check.running = null;
  }

  saveCheck(id: number, running: RunningCheck | null): void {
    const check = this.#checks[id - 1];
    if (check && check.result === null) check.running = structuredClone(running);
  }

  runningChecks(): CheckRecord[] {
    return structuredClone(this.#checks.filter(({ running }) => running !== null));
  }

  check(id: number): CheckRecord | null {
    return structuredClone(this.#checks[id - 1] ?? null);
  }

  checks({ sensor, limit }: CheckQuery): CheckRecord[] {
    const found = this.#checks
      .filter((check) => check.result !== null)
      .filter((check) => sensor === undefined || check.sensor === sensor)
      .reverse();
    return structuredClone(found.slice(0, limit));
  }

  sweep(waveformBytes: number, historyFromMs: number) {
    const before = [this.#blocks, this.#rows, this.#seconds, this.#sags].map((all) => all.length);
    let bytes = this.#blocks.reduce((sum, block) => sum + block.data.byteLength, 0);
    while (bytes > waveformBytes) bytes -= this.#blocks.shift()!.data.byteLength;
    this.#rows = this.#rows.filter((chunk) => chunk.storedMs >= historyFromMs);
    this.#seconds = this.#seconds.filter((second) => second.timeMs >= historyFromMs);
    this.#sags = this.#sags.filter((sag) => sag.startedUs >= historyFromMs * 1_000);
    return {
      blocks: before[0]! - this.#blocks.length,
      rows: before[1]! - this.#rows.length,
      seconds: before[2]! - this.#seconds.length,
      sags: before[3]! - this.#sags.length,
      ...this.#supplies.sweep(historyFromMs * 1_000),
    };
  }

  /** Nothing here can fail once a change has begun: there is no disk to be full. */
  together<Result>(work: () => Result): Result {
    return work();
  }

  close(): void {}

  #pairUp(arc: ArcRecord): void {
    if (!arc.hung || arc.twin !== null) return;
    const { circuit, at } = arc.hung;
    const others = this.#arcs
      .filter(({ hung, twin }) => hung?.circuit === circuit && hung.at !== at && twin === null)
      .filter(({ startedUs, endedUs }) => startedUs <= arc.endedUs && endedUs > arc.startedUs);
    for (const { record, twin, countedBy } of twinOf(arc, others))
      Object.assign(record, { twin, countedBy });
  }

  #ofBoot(sensor: string, boot: number): Block[] {
    return this.#blocks
      .filter((block) => block.sensor === sensor && block.boot === boot)
      .sort((a, b) => a.first - b.first);
  }
}

const unseen = { acknowledged: null, twin: null, countedBy: null };
const samePlace = (a: Block, b: Block) =>
  a.sensor === b.sensor && a.boot === b.boot && a.first === b.first;
const sameArc = (a: Pick<NewSag, 'sensor' | 'boot' | 'start'>, b: typeof a) =>
  a.sensor === b.sensor && a.boot === b.boot && a.start === b.start;
