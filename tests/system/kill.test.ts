import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { Accounts } from '../../broker/accounts.ts';
import type { ArcPage, ArcSummary } from '../../shared/protocol/http.ts';
import { type ArcEdge, decodeMessage } from '../../shared/protocol/messages.ts';
import { parseTopic, sensorId } from '../../shared/protocol/topics.ts';
import { harbourLane } from '../../simulator/electrics/scenarios/harbour-lane.ts';
import { get, Program, until } from './program.ts';

let folder: string;
const programs: Program[] = [];
let listener: MqttClient;
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

/** Both edges of every arc that a sensor told of, by sensor and the sensor's own number. */
interface Seen {
  sensor: string;
  began?: ArcEdge;
  ended?: ArcEdge;
}
const seen = new Map<string, Seen>();

async function listen(brokerUrl: string, account: { username: string; password: string }) {
  listener = await connectAsync(brokerUrl, { ...account, protocolVersion: 4 });
  listener.on('message', (topic, payload) => {
    const place = parseTopic(topic)!;
    const decoded = decodeMessage('arc', payload);
    if (!('message' in decoded)) throw new Error(decoded.says);
    const { message } = decoded;
    const sensor = sensorId(place.site, place.sensor);
    const key = `${sensor} ${message.boot} ${message.arc}`;
    const arc: Seen = seen.get(key) ?? { sensor };
    arc[message.what] = message;
    seen.set(key, arc);
  });
  await listener.subscribeAsync('stiffline/v1/+/+/arc', { qos: 1 });
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

/** Stored arcs that lie over one that the sensor told of. */
function same({ sensor, began, ended }: Seen, stored: readonly ArcSummary[]): ArcSummary[] {
  const from = (began?.time ?? 0) / 1_000;
  const to = (ended?.time ?? Number.POSITIVE_INFINITY) / 1_000;
  return stored.filter(
    (arc) =>
      arc.sensor === sensor && Date.parse(arc.startedAt) < to && Date.parse(arc.endedAt) > from,
  );
}

it('a server killed while arcs arrive stores every one of them once', {
  timeout: 180_000,
}, async () => {
  const data = join(folder, 'data');
  const accounts = new Accounts(data);
  const own = await accounts.own('server');
  for (const { sensors } of harbourLane.bays)
    for (const { name } of sensors) await accounts.own(sensorId('harbour-lane', name));
  const brokerUrl = await start('broker', '--data', data, '--mqtt-port', '0').line();
  await listen(brokerUrl, own);
  const serve = () => start('serve', '--data', data, '--broker', brokerUrl, '--http-port', '0');
  let server = serve();
  await server.line();
  const secrets = join(data, 'secrets');
  const sensor = start('sensor', '--broker', brokerUrl, '--credentials', secrets);
  await until(() => seen.size >= 2, 60_000, sensor.err);
  // At moments that have nothing to do with arcs or commits; each start takes seconds, too, in
  // which the sensors keep what nobody takes.
  for (const afterMs of [700, 1_900, 150, 1_130]) {
    await new Promise((resolve) => setTimeout(resolve, afterMs));
    await server.stop('SIGKILL');
    server = serve();
    await server.line();
  }
  const url = await server.line();
  const told = [...seen.values()];
  expect(told.length).toBeGreaterThan(8);
  // The sensors go on: all that they had told whole by now is stored before long.
  await until(
    async () => {
      const stored = await allArcs(url);
      return told.every((arc) => arc.ended === undefined || same(arc, stored).length > 0);
    },
    60_000,
    server.err,
  );
  expect(await sensor.stop('SIGTERM')).toBe(0);
  let count = -1;
  await until(async () => {
    // Nothing moves any more once two looks are the same.
    const before = count;
    await new Promise((resolve) => setTimeout(resolve, 500));
    count = (await allArcs(url)).length;
    return count === before;
  }, 30_000);
  const stored = await allArcs(url);
  const whole = [...seen.values()].filter(({ ended }) => ended);
  expect(whole.map((arc) => same(arc, stored).length)).toEqual(whole.map(() => 1));
  expect(stored.length).toBeGreaterThanOrEqual(whole.length);
  // More can only be arcs that were cut by the end of the sensors.
  expect(stored.length).toBeLessThanOrEqual(seen.size);
});
