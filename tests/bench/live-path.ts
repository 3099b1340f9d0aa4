/**
 * Blocks of 8 kB at QoS 1 from many sensors: our receiving, and our whole live path (receive,
 * decode, measure, spectra, judge, store, commit, keep), beside Mosquitto and an MQTT.js subscriber
 * that only counts. In turns, best of the rounds. `npx tsx tests/bench/live-path.ts [--json]`
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { connectAsync } from 'mqtt';
import { Accounts } from '../../broker/accounts.ts';
import { buildBroker } from '../../broker/broker.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import { Watch } from '../../shared/watch/watch.ts';
import type { Orders } from './live/publisher.ts';

const rounds = 3;
const sensorCount = 64;
const blocks = 240;
const messages = sensorCount * blocks;

type Sensors = Orders['sensors'];

/** Starts the senders, gives what begins them, and what ends them. */
async function senders(port: number, sensors: Sensors) {
  const path = fileURLToPath(new URL('live/publisher.ts', import.meta.url));
  const child = spawn(process.execPath, ['--import', './.ci/types-off.mjs', path], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const orders: Orders = { port, blocks, sensors };
  child.stdin.write(`${JSON.stringify(orders)}\n`);
  await new Promise((resolve) => child.stdout.once('data', resolve));
  return { begin: () => child.stdin.write('go\n'), end: () => stop(child) };
}

function stop(child: ChildProcess): Promise<unknown> {
  const gone = new Promise((resolve) => child.once('close', resolve));
  child.stdin?.end();
  child.kill();
  return gone;
}

async function settled(so: () => boolean): Promise<void> {
  while (!so()) await new Promise((resolve) => setTimeout(resolve, 5));
}

/** Messages a second from the first order to the last message done. */
async function rate(port: number, sensors: Sensors, done: () => boolean): Promise<number> {
  const { begin, end } = await senders(port, sensors);
  const started = performance.now();
  begin();
  await settled(done);
  const seconds = (performance.now() - started) / 1e3;
  await end();
  return messages / seconds;
}

/** A program that was just spawned takes its time, on a busy machine more. */
async function listens(port: number): Promise<void> {
  for (;;) {
    const there = await new Promise<boolean>((resolve) => {
      const socket = connect(port, '127.0.0.1', () => resolve(true));
      socket.once('connect', () => socket.destroy()).once('error', () => resolve(false));
    });
    if (there) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

async function mosquitto(folder: string, sensors: Sensors): Promise<number> {
  // Below the ports that the system gives out by itself.
  const port = 20_000 + Math.floor(Math.random() * 10_000);
  const config = join(folder, 'mosquitto.conf');
  writeFileSync(
    config,
    `listener ${port} 127.0.0.1\nallow_anonymous true\nmax_queued_messages 0\n` +
      'max_inflight_messages 0\nset_tcp_nodelay true\n',
  );
  const child = spawn('mosquitto', ['-c', config], { stdio: 'ignore' });
  await listens(port);
  const subscriber = await connectAsync(`mqtt://127.0.0.1:${port}`);
  let count = 0;
  subscriber.on('message', () => count++);
  await subscriber.subscribeAsync('stiffline/v1/+/+/wave', { qos: 1 });
  const result = await rate(port, sensors, () => count >= messages);
  await subscriber.endAsync(true);
  await stop(child);
  return result;
}

async function receive(accounts: Accounts, sensors: Sensors): Promise<number> {
  let count = 0;
  const broker = await buildBroker({
    accounts,
    published: (topic) => {
      if (topic.endsWith('wave')) count++;
    },
  });
  const port = await broker.listen(0, '127.0.0.1');
  const result = await rate(port, sensors, () => count >= messages);
  await broker.close();
  return result;
}

async function wholePath(folder: string, accounts: Accounts, sensors: Sensors) {
  const store = new SqliteStore(join(folder, `${performance.now()}.sqlite`));
  const floor = new Floor(store);
  const broker = await buildBroker({
    accounts,
    published: (topic, payload) => ingest.receive(topic, payload),
  });
  const ingest = new Ingest({
    ...{ store, floor, link: broker, say: (line) => process.stderr.write(`${line}\n`) },
    makeWatch: (setup, events) => new Watch(setup, events),
  });
  ingest.start();
  const port = await broker.listen(0, '127.0.0.1');
  const perSecond = await rate(port, sensors, () => ingest.counts.blocks >= messages);
  ingest.stop();
  const { arcs, commits, commitMs } = ingest.counts;
  await broker.close();
  store.close();
  return { perSecond, arcs, commits, commitShare: (commitMs * perSecond) / messages / 1e3 };
}

async function main(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'stiffline-bench-'));
  const accounts = new Accounts(folder);
  const sensors: Sensors = [];
  for (let n = 0; n < sensorCount; n++)
    sensors.push({ ...(await accounts.add(`bench.s${n}`)), name: `s${n}` });
  const best = { mosquitto: 0, receive: 0, whole: 0 };
  let last = { arcs: 0, commits: 0, commitShare: 0 };
  for (let round = 0; round < rounds; round++) {
    best.mosquitto = Math.max(best.mosquitto, await mosquitto(folder, sensors));
    best.receive = Math.max(best.receive, await receive(accounts, sensors));
    last = await wholePath(folder, accounts, sensors);
    best.whole = Math.max(best.whole, (last as typeof last & { perSecond: number }).perSecond);
  }
  rmSync(folder, { recursive: true });
  const machine = `${cpus().length} × ${cpus()[0]?.model}, Node ${process.version}`;
  const ratios = {
    receiveRatio: best.receive / best.mosquitto,
    wholeRatio: best.whole / best.mosquitto,
  };
  if (process.argv.includes('--json')) {
    const told = { subject: 'live-path', machine, ...best, ...ratios, ...last };
    process.stdout.write(`${JSON.stringify(told)}\n`);
    return;
  }
  const line = (says: string, value: number, of: number) =>
    `${says.padEnd(52)} ${value.toFixed(0).padStart(7)} messages/s  ${of.toFixed(2)} ×\n`;
  process.stdout.write(
    `8 kB blocks, QoS 1, ${sensorCount} sensors, best of ${rounds} (${machine})\n` +
      line('Mosquitto and a subscriber that counts', best.mosquitto, 1) +
      line('Ours: received in process', best.receive, ratios.receiveRatio) +
      line('Ours: measured, judged, stored and acknowledged', best.whole, ratios.wholeRatio) +
      `  ${last.arcs} arcs judged, ${last.commits} commits, ` +
      `${(100 * last.commitShare).toFixed(0)} % of the time in them\n`,
  );
}

await main();
