/**
 * What sensors cost the server as they grow in number and as the store fills: processor time a
 * block of 100 ms (decoded, measured, judged, stored) for 1, 10 and 100 sensors, and behind
 * 1,000, 10,000 and 100,000 blocks already stored; and the memory that an idle sensor holds after
 * its first arc, of 500. No network; times are of the processor. `npx tsx tests/bench/sensors.ts`
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import { encodeMessage } from '../../shared/protocol/messages.ts';
import { Watch } from '../../shared/watch/watch.ts';

const frames = 1_024;
const rateHz = 10_240;
/** Half a second before an arc, four of it, half a second after. */
const arcBlocks = 50;
const blocksInAll = 6_000;
const idleSensors = 500;
const idleGoalKb = 64;
/** As many blocks as come between two commits of a busy server. */
const perCommit = 100;

function block(at: number): Int32Array {
  const amps = at % arcBlocks >= 5 && at % arcBlocks < 45 ? 20 : 0.3;
  const data = new Int32Array(2 * frames);
  for (let n = 0; n < frames; n++) {
    const angle = (2 * Math.PI * 60 * (at * frames + n)) / rateHz;
    data[2 * n] = (340_000 - 1_500 * amps) * Math.sin(angle);
    data[2 * n + 1] = amps * 1_414 * (1 + 0.1 * Math.sin(angle / 3.7)) * Math.sin(angle - 0.1);
  }
  return data;
}

const waves: Uint8Array[] = [];
/** Payloads are the same for all sensors: a stream's numbers are its own. */
function wave(seq: number): Uint8Array {
  waves[seq] ??= encodeMessage('wave', {
    ...{ v: 1, boot: 1, seq, first: (seq - 1) * frames, time: 1e15 + (seq - 1) * 100_000 },
    ...{ n: frames, lost: 0, flags: 0, data: block(seq - 1) },
  });
  return waves[seq];
}

class Server {
  readonly store: SqliteStore;
  readonly ingest: Ingest;
  readonly #topics: string[] = [];
  #seq = 0;
  #uncommitted = 0;
  readonly #folder = mkdtempSync(join(tmpdir(), 'stiffline-bench-'));

  constructor(sensors: number) {
    this.store = new SqliteStore(join(this.#folder, 'bench.sqlite'));
    const floor = new Floor(this.store);
    this.ingest = new Ingest({
      ...{ store: this.store, floor, link: { publish: () => {} }, say: console.error },
      makeWatch: (setup, events) => new Watch(setup, events),
    });
    this.ingest.start();
    for (let n = 0; n < sensors; n++) {
      const about = encodeMessage('about', {
        ...{ v: 1, boot: 1, name: `s${n}`, pairs: 1, rate: rateHz, bits: 24 },
        ...{ scale: [0.001, 0.001], at: 'machine', fw: 'bench', site: 'bench' },
      });
      this.ingest.receive(`stiffline/v1/bench/s${n}/about`, about);
      this.#topics.push(`stiffline/v1/bench/s${n}`);
    }
    this.ingest.flush();
  }

  /** The next block of every sensor. */
  block(): void {
    const payload = wave(++this.#seq);
    for (const topic of this.#topics) {
      this.ingest.receive(`${topic}/wave`, payload);
      if (++this.#uncommitted % perCommit === 0) this.ingest.flush();
    }
  }

  /** All say that nothing more happened for a minute. */
  rest(): void {
    const sample = this.#seq * frames + 60 * rateHz;
    const state = encodeMessage('state', {
      ...{ v: 1, boot: 1, state: 'online', time: 1e15 + sample * 97, sample },
      ...{ oldest: 1, newest: this.#seq, health: {} },
    });
    for (const topic of this.#topics) this.ingest.receive(`${topic}/state`, state);
    this.ingest.flush();
  }

  close(): void {
    this.ingest.stop();
    this.store.close();
    rmSync(this.#folder, { recursive: true });
  }
}

/** Microseconds of processor a block. */
function cost(server: Server, sensors: number): number {
  const turns = Math.ceil(blocksInAll / sensors);
  const before = process.cpuUsage();
  for (let turn = 0; turn < turns; turn++) server.block();
  server.ingest.flush();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / (turns * sensors);
}

function bySensors(sensors: number): number {
  const server = new Server(sensors);
  const us = cost(server, sensors);
  server.close();
  return us;
}

/** Small blocks of another sensor fill the store: as many, and as deep an index. */
function byStored(stored: number): number {
  const server = new Server(10);
  const data = new Int32Array(32);
  for (let from = 0; from < stored; from += 1_000) {
    const blocks = Array.from({ length: 1_000 }, (_, n) => ({
      ...{ sensor: 'bench.s9', boot: 0, seq: from + n, first: (from + n) * 16, time: 1 },
      ...{ n: 16, lost: 0, flags: 0, data },
    }));
    const empty = {
      supplies: [],
      otherLoads: [],
      rows: [],
      seconds: [],
      arcs: [],
      sags: [],
      cursors: [],
      quarantined: [],
    };
    server.store.commit({ ...empty, blocks });
  }
  const us = cost(server, 10);
  server.close();
  return us;
}

function held(): number {
  setFlagsFromString('--expose_gc');
  const collect = runInNewContext('gc') as () => void;
  collect();
  collect();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

function idleKb(): number {
  for (let seq = 1; seq <= arcBlocks; seq++) wave(seq);
  const before = held();
  const server = new Server(idleSensors);
  for (let n = 0; n < arcBlocks; n++) server.block();
  server.rest();
  const kb = (held() - before) / idleSensors / 1_000;
  server.close();
  return kb;
}

function main(): void {
  bySensors(20);
  const sensors = [1, 10, 100].map((count) => ({ count, us: bySensors(count) }));
  const stored = [1_000, 10_000, 100_000].map((count) => ({ count, us: byStored(count) }));
  const kb = idleKb();
  const machine = `${cpus().length} × ${cpus()[0]?.model}, Node ${process.version}`;
  if (process.argv.includes('--json')) {
    const told = { subject: 'sensors', machine, sensors, stored, idleKb: kb, idleGoalKb };
    process.stdout.write(`${JSON.stringify(told)}\n`);
    return;
  }
  const line = (what: string) => (one: { count: number; us: number }) =>
    `${String(one.count).padStart(8)} ${what.padEnd(16)} ${one.us.toFixed(0).padStart(5)} µs\n`;
  process.stdout.write(
    `Processor time a block of 100 ms, one pair (${machine})\n` +
      `${sensors.map(line('sensors')).join('')}${stored.map(line('blocks stored')).join('')}` +
      `An idle sensor of ${idleSensors} holds ${kb.toFixed(1)} kB (goal: ${idleGoalKb})\n`,
  );
}

main();
