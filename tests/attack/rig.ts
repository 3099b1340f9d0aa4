import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { WebSocket } from 'ws';
import { Accounts } from '../../broker/accounts.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { ArcRecord } from '../../dashboard/server/store/store.ts';
import type { ArcPage, ArcSummary } from '../../shared/protocol/http.ts';
import type { LiveMessage } from '../../shared/protocol/live.ts';
import { decodeMessage } from '../../shared/protocol/messages.ts';
import { formatTopic, type Kind, parseTopic, sensorId } from '../../shared/protocol/topics.ts';
import { fromWire } from '../../shared/protocol/wire.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { get, Program, until } from '../system/program.ts';

export const site = 'harbour-lane';
/** The well-behaved sensor of the scenario that runs beside every attack. */
export const good = 'bay';

/** One process that is all, or the broker and the server each by itself. */
export type Layout = 'run' | 'broker and serve';

/** The programs under attack, a good sensor, and a listener who knows what must be stored. */
export class Rig {
  readonly folder = mkdtempSync(join(tmpdir(), 'stiffline-attack-'));
  readonly data = join(this.folder, 'data');
  readonly accounts = new Accounts(this.data);
  brokerUrl = '';
  url = '';
  /** Those that must live; the last one serves the page. */
  programs: Program[] = [];
  readonly #clients: MqttClient[] = [];
  readonly #others: Program[] = [];
  #socket: WebSocket | undefined;
  /** Kinds of what a page has heard, beats among them. */
  readonly heard: string[] = [];

  async start(layout: Layout): Promise<void> {
    await this.accounts.own('server');
    await this.accounts.own(sensorId(site, good));
    this.programs = [];
    if (layout === 'run') {
      const port = await freePort();
      const program = new Program(
        ...['run', '--no-sensors', '--data', this.data, '--http-port', '0'],
        ...['--mqtt-port', String(port)],
      );
      this.programs = [program];
      this.brokerUrl = `mqtt://127.0.0.1:${port}`;
    } else {
      const broker = new Program('broker', '--data', this.data, '--mqtt-port', '0');
      this.brokerUrl = await broker.line();
      const serve = new Program(
        ...['serve', '--data', this.data, '--broker', this.brokerUrl, '--http-port', '0'],
      );
      await until(() => serve.err.includes('connected to'), 20_000, serve.err);
      this.programs = [broker, serve];
    }
    this.url = await this.programs.at(-1)!.line();
  }

  /** Ends what runs and starts it anew on the same folder. */
  async restart(layout: Layout): Promise<void> {
    for (const program of this.programs.reverse()) await program.stop();
    await this.start(layout);
  }

  /** Statuses of what is up, or the signal that ended it. */
  get ended(): (number | string | null)[] {
    return this.programs.map(({ child }) => child.exitCode ?? child.signalCode);
  }

  get said(): string {
    return this.programs.map(({ err }) => err).join('\n');
  }

  async client(username: string): Promise<MqttClient> {
    const account = await this.accounts.own(username);
    const client = await connectAsync(this.brokerUrl, { ...account, protocolVersion: 4 });
    // A broker that dies under an attack is for the test to tell.
    client.on('error', () => {});
    this.#clients.push(client);
    return client;
  }

  sensor(...more: string[]): Program {
    const program = new Program(
      ...['sensor', '--broker', this.brokerUrl, '--credentials', join(this.data, 'secrets')],
      ...['--scenario', 'healthy-steel', ...more],
    );
    this.#others.push(program);
    return program;
  }

  /** A page that is open all the while. */
  async page(): Promise<WebSocket> {
    const socket = new WebSocket(new URL('api/v1/live', this.url.replace('http', 'ws')));
    socket.on('message', (data, binary) => {
      this.heard.push(binary ? 'rows' : (JSON.parse(String(data)) as LiveMessage).kind);
    });
    socket.on('error', () => {});
    this.#socket = socket;
    await until(() => this.heard.includes('hello'), 20_000, this.said);
    return socket;
  }

  async close(): Promise<void> {
    this.#socket?.terminate();
    for (const client of this.#clients) await client.endAsync(true);
    for (const program of [...this.#others, ...this.programs]) await program.stop('SIGKILL');
    rmSync(this.folder, { recursive: true });
  }
}

const heardKinds: readonly Kind[] = ['about', 'state', 'arc', 'wave', 'keep'];

/** Hears one sensor as a server does, and is attacked by nobody. */
export class Witness {
  readonly #store = new MemoryStore();
  /** Highest number that the sensor has sent, and that it was told is stored. */
  newest = 0;
  kept = 0;

  async listen(rig: Rig, sensor: string, kinds: readonly Kind[] = heardKinds): Promise<void> {
    const client = await rig.client('server');
    const floor = new Floor(this.#store);
    const ingest = new Ingest({
      ...{ store: this.#store, floor, link: { publish: () => {} }, say: () => {} },
      makeWatch: (setup, events) => new Watch(setup, events),
    });
    ingest.start();
    client.on('message', (topic, payload) => {
      const kind = parseTopic(topic)!.kind;
      if (kind === 'keep') this.kept = Math.max(this.kept, seqIn(payload));
      else {
        this.newest = Math.max(this.newest, seqIn(payload));
        ingest.receive(topic, payload);
      }
    });
    for (const kind of kinds) await client.subscribeAsync(formatTopic(site, sensor, kind));
  }

  get arcs(): ArcRecord[] {
    return this.#store.arcs({ limit: 1_000 });
  }
}

function seqIn(payload: Uint8Array): number {
  const { seq } = fromWire(payload) as { seq?: number };
  return seq ?? 0;
}

export const refusedBySchema = (kind: Kind, payload: Uint8Array): boolean =>
  'fault' in decodeMessage(kind, payload);

export async function allArcs(url: string): Promise<ArcSummary[]> {
  const arcs: ArcSummary[] = [];
  for (let next: string | null = ''; next !== null; ) {
    const page: ArcPage = await get(url, `api/v1/arcs?limit=200${next && `&before=${next}`}`);
    arcs.push(...page.arcs);
    next = page.next;
  }
  return arcs;
}

/** Of a labelled counter all that its labels say so of. */
export function counted(metrics: string, name: string, ...labels: string[]): number {
  return metrics
    .split('\n')
    .filter((line) => line.startsWith(`stiffline_${name}`))
    .filter((line) => labels.every((label) => line.includes(label)))
    .reduce((sum, line) => sum + Number(line.split(' ').at(-1)), 0);
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as { port: number };
  await new Promise((resolve) => server.close(resolve));
  return port;
}
