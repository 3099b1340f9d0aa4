import { mkdtempSync, rmSync } from 'node:fs';
import { connect, createServer, type Server, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { Accounts } from '../../broker/accounts.ts';
import { type Broker, buildBroker } from '../../broker/broker.ts';
import { encodeMessage } from '../../shared/protocol/messages.ts';
import { formatTopic, parseTopic } from '../../shared/protocol/topics.ts';
import { lastWill } from '../../simulator/firmware/firmware.ts';
import type { Received } from '../../simulator/hal.ts';
import { MemoryLink } from '../../simulator/ports/memory-link.ts';
import { linkLimits, MqttLink } from '../../simulator/ports/mqtt-link.ts';

const folder = mkdtempSync(join(tmpdir(), 'stiffline-link-'));
const accounts = new Accounts(folder);
const site = 'test-site';
const sensor = 'bay-1';
let broker: Broker;
let port = 0;
let heard: { kind: string; bytes: Uint8Array }[] = [];
let credentials: { username: string; password: string };
const open: MqttLink[] = [];

beforeAll(async () => {
  credentials = await accounts.own(`${site}.${sensor}`);
  broker = await buildBroker({
    accounts,
    published: (topic, payload) =>
      heard.push({ kind: parseTopic(topic)!.kind, bytes: Uint8Array.from(payload) }),
  });
  port = await broker.listen(0, '127.0.0.1');
});
afterEach(async () => {
  await Promise.all(open.splice(0).map((link) => link.close()));
  heard = [];
});
afterAll(async () => {
  await broker.close();
  rmSync(folder, { recursive: true });
});

function mqttLink(to = port, password = credentials.password): MqttLink {
  const link = new MqttLink({
    url: `mqtt://127.0.0.1:${to}`,
    username: credentials.username,
    password,
    site,
    sensor,
    will: lastWill(),
    chance: () => 0,
  });
  open.push(link);
  link.open();
  return link;
}

async function until(what: () => boolean, ms = 5_000): Promise<void> {
  for (const end = performance.now() + ms; !what(); ) {
    if (performance.now() > end) throw new Error(`not within ${ms} ms: ${what}`);
    await wait(5);
  }
}

const message: Received = { kind: 'ask', bytes: new Uint8Array(512), length: 0 };
const keep = (seq: number) => encodeMessage('keep', { v: 1, seq });

interface Ends {
  link: MqttLink | MemoryLink;
  heard: () => { kind: string; bytes: Uint8Array }[];
  tell: (bytes: Uint8Array) => void;
}

async function mqttEnds(): Promise<Ends> {
  const link = mqttLink();
  await until(() => link.session > 0);
  return {
    link,
    heard: () => heard,
    tell: (bytes) => broker.publish(formatTopic(site, sensor, 'keep'), bytes),
  };
}

async function memoryEnds(): Promise<Ends> {
  const link = new MemoryLink();
  link.connect();
  const taken: { kind: string; bytes: Uint8Array }[] = [];
  return {
    link,
    heard: () => {
      for (let letter = link.take(); letter; letter = link.take()) taken.push(letter);
      return taken;
    },
    tell: (bytes) => link.tell('keep', bytes),
  };
}

/** What every link keeps. */
describe.each([
  ['memory', memoryEnds],
  ['MQTT', mqttEnds],
])('a link over %s', (_, make) => {
  test('brings copies, in order, of the length that was said', async () => {
    const { link, heard } = await make();
    const buffer = new Uint8Array(100);
    for (let n = 0; n < 20; n++) {
      buffer.fill(n);
      expect(link.send('wave', buffer, 50 + n)).toBe(true);
    }
    await until(() => heard().length === 20);
    for (const [n, { kind, bytes }] of heard().entries()) {
      expect(kind).toBe('wave');
      expect([...bytes]).toEqual(new Array(50 + n).fill(n));
    }
  });

  test('brings what the server says', async () => {
    const { link, tell } = await make();
    expect(link.receive(message)).toBe(false);
    tell(keep(42));
    await until(() => link.receive(message));
    expect(message.kind).toBe('keep');
    expect(message.bytes.slice(0, message.length)).toEqual(keep(42));
    expect(link.receive(message)).toBe(false);
  });

  test('takes no more than it can hold, and takes again', async () => {
    const { link, heard } = await make();
    let taken = 0;
    while (taken < 1_000 && link.send('wave', new Uint8Array(4_096), 4_096)) taken++;
    expect(taken).toBeLessThan(100);
    await until(() => heard().length === taken);
    await until(() => link.send('wave', new Uint8Array(1), 1));
  });

  test('takes nothing without a connection', async () => {
    const { link } = await make();
    if (link instanceof MemoryLink) link.disconnect();
    else await link.close();
    expect(link.session).toBe(0);
    expect(link.send('wave', new Uint8Array(1), 1)).toBe(false);
  });
});

describe('the MQTT link', () => {
  test('says why it is refused, and tries on', async () => {
    const link = mqttLink(port, 'wrong');
    await until(() => link.trouble !== null);
    expect(link.trouble!.kind).toBe('refused');
    expect(link.session).toBe(0);
  });

  test('a nobody at the other end is told as unreachable', async () => {
    const link = mqttLink(1);
    await until(() => link.trouble !== null);
    expect(link.trouble!.kind).toBe('unreachable');
  });

  test('comes back after the connection broke, as a new session; the will was told', async () => {
    const between = await relay();
    const link = mqttLink(between.port);
    await until(() => link.session === 1);
    between.cut();
    await until(() => link.session === 0);
    await until(() => link.session === 2);
    await until(() => heard.some(({ kind }) => kind === 'state'));
    expect(heard.find(({ kind }) => kind === 'state')!.bytes).toEqual(lastWill());
    expect(link.send('wave', new Uint8Array(10), 10)).toBe(true);
    await until(() => heard.some(({ kind }) => kind === 'wave'));
    between.close();
  });

  test('a half-open connection is found by the publish that is never acknowledged', async () => {
    const between = await relay();
    const link = mqttLink(between.port);
    await until(() => link.session === 1);
    between.freeze();
    link.send('wave', new Uint8Array(10), 10);
    const since = performance.now();
    await until(() => {
      link.send('wave', new Uint8Array(10), 10);
      return link.session === 0;
    }, linkLimits.publishTimeoutMs + 3_000);
    expect(performance.now() - since).toBeGreaterThan(linkLimits.publishTimeoutMs - 500);
    between.close();
  }, 12_000);
});

/** A way through to the broker that can be cut or frozen. */
async function relay() {
  const sockets = new Set<Socket>();
  const server: Server = createServer((near) => {
    const far = connect(port, '127.0.0.1');
    for (const socket of [near, far]) {
      sockets.add(socket);
      socket.on('error', () => {});
      socket.on('close', () => sockets.delete(socket));
    }
    near.pipe(far);
    far.pipe(near);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const cut = () => {
    for (const socket of sockets) socket.destroy();
  };
  return {
    port: typeof address === 'object' && address ? address.port : 0,
    cut,
    freeze: () => {
      for (const socket of sockets) {
        socket.unpipe();
        socket.pause();
      }
    },
    close: () => {
      cut();
      server.close();
    },
  };
}
