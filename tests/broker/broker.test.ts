import { mkdtempSync, rmSync } from 'node:fs';
import { connect as connectSocket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync, type IClientOptions, type MqttClient } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Accounts, type Credentials } from '../../broker/accounts.ts';
import { type Broker, buildBroker } from '../../broker/broker.ts';
import { limits } from '../../broker/limits.ts';

let folder: string;
let broker: Broker;
let port: number;
let bay1: Credentials;
let server: Credentials;
const heard: { topic: string; payload: string }[] = [];
const clients: MqttClient[] = [];
const own = 'stiffline/v1/harbour-lane/bay-1';

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-broker-'));
  const accounts = new Accounts(folder);
  bay1 = await accounts.add('harbour-lane.bay-1');
  server = await accounts.add('server');
  heard.length = 0;
  broker = await buildBroker({
    accounts,
    published: (topic, payload) => heard.push({ topic, payload: payload.toString() }),
  });
  port = await broker.listen(0, '127.0.0.1');
});
afterEach(async () => {
  await Promise.all(clients.splice(0).map((client) => client.endAsync(true)));
  await broker.close();
  rmSync(folder, { recursive: true });
});

async function connect(options: IClientOptions): Promise<MqttClient> {
  const client = await connectAsync(`mqtt://127.0.0.1:${port}`, {
    reconnectPeriod: 0,
    ...options,
  });
  clients.push(client);
  return client;
}

const closed = (client: MqttClient) =>
  new Promise<void>((resolve) => client.once('close', () => resolve()));

describe('broker', () => {
  it("hands a sensor's publish to the server, in process and over the wire", async () => {
    const subscriber = await connect(server);
    await subscriber.subscribeAsync('stiffline/v1/+/+/wave', { qos: 1 });
    const arrived = new Promise<string>((resolve) =>
      subscriber.once('message', (_topic, payload) => resolve(payload.toString())),
    );
    const sensor = await connect(bay1);
    await sensor.publishAsync(`${own}/wave`, 'block', { qos: 1 });
    expect(await arrived).toBe('block');
    await expect.poll(() => heard).toEqual([{ topic: `${own}/wave`, payload: 'block' }]);
  });

  it('brings keep from the server in this process to its sensor', async () => {
    const sensor = await connect(bay1);
    await sensor.subscribeAsync(`${own}/keep`, { qos: 1 });
    const arrived = new Promise<string>((resolve) =>
      sensor.once('message', (topic, payload) => resolve(`${topic} ${payload}`)),
    );
    broker.publish(`${own}/keep`, Buffer.from('7'));
    expect(await arrived).toBe(`${own}/keep 7`);
    expect(heard).toEqual([]);
  });

  it('turns away who has no name, a wrong secret, or wants a session kept', async () => {
    await expect(connect({})).rejects.toThrow('Not authorized');
    await expect(connect({ ...bay1, password: 'x' })).rejects.toThrow('Bad username or password');
    await expect(connect({ ...bay1, clean: false, clientId: 'a' })).rejects.toThrow();
    expect(broker.refused).toMatchObject({ anonymous: 1, credentials: 1, session: 1 });
  });

  it('cuts a sensor that speaks as another one, and tells nobody what it said', async () => {
    const sensor = await connect(bay1);
    const gone = closed(sensor);
    sensor.publish('stiffline/v1/harbour-lane/bay-2/wave', 'forged', { qos: 1 });
    await gone;
    expect(broker.refused.publish).toBe(1);
    expect(heard).toEqual([]);
  });

  it("refuses a subscription to another's topics in the SUBACK", async () => {
    const sensor = await connect(bay1);
    await expect(sensor.subscribeAsync('stiffline/v1/+/+/keep')).rejects.toThrow();
    expect(broker.refused.subscribe).toBe(1);
  });

  it("ends an account's first client of one id, and never another account's", async () => {
    const subscriber = await connect({ ...server, clientId: 'same' });
    const first = await connect({ ...bay1, clientId: 'same' });
    expect([subscriber.connected, broker.clients()]).toEqual([true, 2]);
    const gone = closed(first);
    await connect({ ...bay1, clientId: 'same' });
    await gone;
    expect(subscriber.connected).toBe(true);
    await expect.poll(() => broker.clients()).toBe(2);
  });

  it('tells the last will of a sensor whose link broke', async () => {
    const sensor = await connect({
      ...bay1,
      will: { topic: `${own}/state`, payload: Buffer.from('lost'), qos: 1, retain: true },
    });
    sensor.stream.destroy();
    await expect.poll(() => heard).toEqual([{ topic: `${own}/state`, payload: 'lost' }]);
  });

  it('cuts a frame that is too long at its header', async () => {
    const socket = connectSocket(port, '127.0.0.1');
    const gone = new Promise<void>((resolve) => socket.once('close', () => resolve()));
    socket.on('error', () => {});
    socket.write(Uint8Array.of(0x10, 0xff, 0xff, 0xff, 0x7f));
    await gone;
    expect(broker.refused.frame).toBe(1);
    const big = await connect(bay1);
    const cut = closed(big);
    big.publish(`${own}/wave`, Buffer.alloc(limits.frameBytes + 1), { qos: 1 });
    await cut;
    expect(broker.refused.frame).toBe(2);
  });

  it('names a taken port in one line', async () => {
    const second = await buildBroker({ accounts: new Accounts(folder) });
    await expect(second.listen(port, '127.0.0.1')).rejects.toThrow(
      `MQTT port ${port} on 127.0.0.1 is in use`,
    );
    await second.close();
  });
});
