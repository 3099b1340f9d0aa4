import { execFile, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Accounts, type Credentials } from '../../broker/accounts.ts';
import { type Broker, buildBroker } from '../../broker/broker.ts';
import { until } from '../system/program.ts';

const run = promisify(execFile);
const there = spawnSync('mosquitto_pub', ['--help']).error === undefined;
if (!there) console.warn('skipped: mosquitto_pub is not here; apt-get install mosquitto-clients');

const own = 'stiffline/v1/harbour-lane/bay-1';
let folder: string;
let broker: Broker;
let port: number;
let bay1: Credentials;
let server: Credentials;
const heard: string[] = [];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-mosquitto-'));
  const accounts = new Accounts(folder);
  bay1 = await accounts.add('harbour-lane.bay-1');
  server = await accounts.add('server');
  broker = await buildBroker({
    accounts,
    published: (topic, payload) => heard.push(`${topic} ${payload}`),
  });
  port = await broker.listen(0, '127.0.0.1');
});
afterAll(async () => {
  await broker.close();
  rmSync(folder, { recursive: true });
});

const client = (account: Partial<Credentials>, ...more: string[]) => [
  ...['-h', '127.0.0.1', '-p', String(port), '-V', 'mqttv311', ...more],
  ...(account.username ? ['-u', account.username] : []),
  ...(account.password ? ['-P', account.password] : []),
];
const publish = (account: Partial<Credentials>, topic: string, text: string, ...more: string[]) =>
  run('mosquitto_pub', client(account, '-t', topic, '-m', text, ...more));

/** A client that nobody here wrote. */
describe.skipIf(!there)('mosquitto clients at our broker', () => {
  it('publish with their credentials, QoS 0, 1 and 2', async () => {
    for (const qos of ['0', '1', '2']) await publish(bay1, `${own}/wave`, `q${qos}`, '-q', qos);
    await until(() => heard.length >= 3, 5_000);
    expect(heard.sort()).toEqual([`${own}/wave q0`, `${own}/wave q1`, `${own}/wave q2`]);
  });

  it('are refused without a name, with a wrong secret, as another sensor', async () => {
    await expect(publish({}, `${own}/wave`, 'x')).rejects.toThrow(/not authori[sz]ed/i);
    const wrong = { ...bay1, password: 'guess' };
    await expect(publish(wrong, `${own}/wave`, 'x')).rejects.toThrow(/refused|not authori[sz]ed/i);
    const stranger = { username: 'harbour-lane.bay-2', password: bay1.password };
    await expect(publish(stranger, `${own}/wave`, 'x')).rejects.toThrow(/refused|authori[sz]ed/i);
    expect(broker.refused).toMatchObject({ anonymous: 1, credentials: 2 });
  });

  it('are cut when they publish outside their own topics', async () => {
    const before = heard.length;
    const { publish: refused } = broker.refused;
    await expect(publish(bay1, `${own}/keep`, 'x', '-q', '1')).rejects.toThrow();
    const other = own.replace('bay-1', 'bay-2');
    await expect(publish(bay1, `${other}/wave`, 'x', '-q', '1')).rejects.toThrow();
    expect(broker.refused.publish).toBe(refused + 2);
    expect(heard.length).toBe(before);
  });

  it('hear keep on their own topic, and no topic of another', async () => {
    const sub = spawn('mosquitto_sub', client(bay1, '-t', `${own}/keep`, '-C', '1', '-W', '10'));
    let out = '';
    sub.stdout.on('data', (chunk) => {
      out += chunk;
    });
    const ended = new Promise((resolve) => sub.once('close', resolve));
    const again = setInterval(() => broker.publish(`${own}/keep`, Buffer.from('17')), 100);
    await ended;
    clearInterval(again);
    expect(out).toBe('17\n');
    const before = broker.refused.subscribe;
    const all = await run('mosquitto_sub', client(bay1, '-t', 'stiffline/#', '-C', '1', '-W', '2'));
    expect(all.stderr).toContain('denied');
    expect(broker.refused.subscribe).toBe(before + 1);
  });

  it('get what is retained as a newcomer of the server', async () => {
    await publish(bay1, `${own}/about`, 'who', '-r', '-q', '1');
    const filter = 'stiffline/v1/+/+/about';
    const { stdout } = await run(
      'mosquitto_sub',
      client(server, '-t', filter, '-C', '1', '-W', '5'),
    );
    expect(stdout).toBe('who\n');
  });
});
