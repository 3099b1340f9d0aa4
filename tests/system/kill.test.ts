import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { Accounts } from '../../broker/accounts.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { ArcPage, ArcSummary } from '../../shared/protocol/http.ts';
import { sensorId } from '../../shared/protocol/topics.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { harbourLane } from '../../simulator/electrics/scenarios/harbour-lane.ts';
import { get, Program, until } from './program.ts';

let folder: string;
const programs: Program[] = [];
let listener: MqttClient | undefined;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-kill-'));
});
afterAll(async () => {
  await listener?.endAsync(true);
  for (const program of programs) await program.stop('SIGKILL');
  rmSync(folder, { recursive: true });
});

function start(...args: string[]): Program {
  const program = new Program(...args);
  programs.push(program);
  return program;
}

/** A server that is never killed and hears the same: what it stores is what must be stored. */
async function witness(brokerUrl: string, account: { username: string; password: string }) {
  const store = new MemoryStore();
  const ingest = new Ingest({
    ...{ store, floor: new Floor(store), link: { publish: () => {} }, say: () => {} },
    makeWatch: (setup, events) => new Watch(setup, events),
  });
  ingest.start();
  listener = await connectAsync(brokerUrl, { ...account, protocolVersion: 4 });
  listener.on('message', (topic, payload) => ingest.receive(topic, payload));
  for (const kind of ['about', 'state', 'arc', 'wave'])
    await listener.subscribeAsync(`stiffline/v1/+/+/${kind}`, { qos: 1 });
  return () => store.arcs({ limit: 10_000 });
}

async function allArcs(url: string): Promise<ArcSummary[]> {
  const arcs: ArcSummary[] = [];
  for (let next: string | null = ''; next !== null; ) {
    const page: ArcPage = await get(url, `api/v1/arcs?limit=200${next && `&before=${next}`}`);
    arcs.push(...page.arcs);
    next = page.next;
  }
  return arcs;
}

/** Borders may differ by a cycle: a rebuilt watch has learnt from half a minute, not from all. */
const cycleMs = 1_000 / 60;

it('a server killed while arcs arrive stores each once', { timeout: 300_000 }, async () => {
  const data = join(folder, 'data');
  const accounts = new Accounts(data);
  const own = await accounts.own('server');
  for (const { sensors } of harbourLane.bays)
    for (const { name } of sensors) await accounts.own(sensorId('harbour-lane', name));
  const brokerUrl = await start('broker', '--data', data, '--mqtt-port', '0').line();
  const wanted = await witness(brokerUrl, own);
  const serve = () => start('serve', '--data', data, '--broker', brokerUrl, '--http-port', '0');
  let server = serve();
  await server.line();
  const secrets = join(data, 'secrets');
  const sensor = start('sensor', '--broker', brokerUrl, '--credentials', secrets);
  await until(() => wanted().length >= 2, 90_000, sensor.err);
  // At moments that have nothing to do with arcs or commits; each start takes seconds, too, in
  // which the sensors keep what nobody takes.
  for (const afterMs of [700, 1_900, 150, 1_130]) {
    await new Promise((resolve) => setTimeout(resolve, afterMs));
    await server.stop('SIGKILL');
    server = serve();
    await server.line();
  }
  const url = await server.line();
  // What was seen by now must be stored; the sensors go on meanwhile, then end and say good-bye.
  await until(() => wanted().length > 8, 90_000, sensor.err);
  const seen = wanted();
  const sameArc = (id: string, startedMs: number) => (arc: ArcSummary) =>
    arc.sensor === id && Math.abs(Date.parse(arc.startedAt) - startedMs) < cycleMs;
  const copies = (stored: ArcSummary[]) =>
    seen.map((arc) => stored.filter(sameArc(arc.sensor, arc.startedUs / 1e3)).length);
  await until(async () => !copies(await allArcs(url)).includes(0), 120_000, server.err);
  expect(await sensor.stop('SIGTERM')).toBe(0);
  await new Promise((resolve) => setTimeout(resolve, 2_000));
  const stored = await allArcs(url);
  expect(copies(stored)).toEqual(seen.map(() => 1));
  // Nor any later one twice.
  for (const arc of stored)
    expect(stored.filter(sameArc(arc.sensor, Date.parse(arc.startedAt)))).toHaveLength(1);
});
