import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { Accounts } from '../../broker/accounts.ts';
import { type Broker, buildBroker } from '../../broker/broker.ts';
import { openRecordingFile } from '../../shared/files/recording-file.ts';
import type { About, ArcEdge, Wave } from '../../shared/protocol/messages.ts';
import { decodeMessage, encodeMessage, type State } from '../../shared/protocol/messages.ts';
import { formatTopic, parseTopic } from '../../shared/protocol/topics.ts';
import { scenarioOf } from '../../simulator/catalogue.ts';
import { main as sensor } from '../../simulator/main.ts';
import { main as replay } from '../../simulator/replay.ts';
import { startSensors } from '../../simulator/sensors.ts';

const folder = mkdtempSync(join(tmpdir(), 'stiffline-sensor-'));
const at = (name: string) => join(folder, name);
const never = new AbortController().signal;
afterAll(() => rmSync(folder, { recursive: true }));

describe('stiffline sensor --record', () => {
  const record = (seed: number, name: string, ...more: string[]) => {
    const args = ['--seed', `${seed}`, '--seconds', '6', '--record', at(name), ...more];
    return sensor(['--scenario', 'healthy-steel', ...args], never);
  };

  test('the same seed writes the same bytes, another seed others', async () => {
    await record(1, 'a.cfg', '--truth', at('a.json'));
    await record(1, 'b.cfg', '--truth', at('b.json'));
    await record(2, 'c.cfg');
    expect(readFileSync(at('a.dat')).equals(readFileSync(at('b.dat')))).toBe(true);
    expect(readFileSync(at('a.json')).equals(readFileSync(at('b.json')))).toBe(true);
    expect(readFileSync(at('a.dat')).equals(readFileSync(at('c.dat')))).toBe(false);
  });

  test('reads back as the seconds asked for, with its truth beside', async () => {
    await record(1, 'd.cff', '--truth', at('d.json'));
    const { reader } = openRecordingFile(at('d.cff'));
    let frames = 0;
    for (let block = reader.next(); block; block = reader.next()) frames += block.frames;
    expect(frames).toBe(6 * reader.facts.rateHz);
    const truth = JSON.parse(readFileSync(at('d.json'), 'utf8'));
    expect(Object.keys(truth).sort()).toEqual(['arcs', 'faults', 'supply']);
    expect(truth.supply).toHaveLength(reader.facts.pairs);
  });

  test('--list tells a scenario a line, its name first', async () => {
    const write = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
    await sensor(['--list'], never);
    const lines = String(write.mock.calls[0]![0]).trimEnd().split('\n');
    write.mockRestore();
    for (const line of lines) expect(scenarioOf(line.split(' ')[0]!).says).not.toBe('');
  });

  test.each([
    [[], 'either --record FILE or --broker URL'],
    [['--record', 'x.dat'], 'ends in .cfg or .cff'],
    [['--scenario', 'no-such', '--record', 'x.cfg'], '--list tells'],
    [['--record', at('e.cfg'), '--point', 'moon'], '--point "moon": one of'],
    [['--broker', 'http://here'], 'mqtt://host:port is needed'],
    [['--record', at('none/e.cfg')], 'there is no such folder'],
    [['--broker', 'mqtt://127.0.0.1:1'], 'no credentials for harbour-lane.'],
  ])('%j is refused in one line', async (args, says) => {
    const error = await sensor(args as string[], never).catch((thrown) => thrown);
    expect(error.message).toContain(says);
    expect(error.message).not.toContain('\n');
  });

  test('a scenario file that does not hold is named, with the place', async () => {
    writeFileSync(at('bad.json'), '{"name": 7}');
    const run = sensor(['--scenario', at('bad.json'), '--record', at('f.cfg')], never);
    await expect(run).rejects.toThrow(/bad\.json: .*bays/);
    expect(existsSync(at('f.cfg'))).toBe(false);
  });
});

/** A broker with the shortest of servers: checks, remembers, keeps. */
class Shop {
  readonly accounts = new Accounts(at('accounts'));
  readonly said = new Map<string, unknown[]>();
  readonly faults: string[] = [];
  broker!: Broker;
  url = '';

  async open(): Promise<void> {
    this.broker = await buildBroker({
      accounts: this.accounts,
      published: (topic, payload) => this.#take(topic, payload),
    });
    this.url = `mqtt://127.0.0.1:${await this.broker.listen(0, '127.0.0.1')}`;
  }

  of<T>(sensor: string, kind: string): T[] {
    return (this.said.get(`${sensor}/${kind}`) ?? []) as T[];
  }

  #take(topic: string, payload: Uint8Array): void {
    const { site, sensor, kind } = parseTopic(topic)!;
    const decoded = decodeMessage(kind, payload);
    if ('fault' in decoded) {
      this.faults.push(`${topic}: ${decoded.says}`);
      return;
    }
    const key = `${sensor}/${kind}`;
    this.said.set(key, [...(this.said.get(key) ?? []), decoded.message]);
    const { seq } = decoded.message as { seq?: number };
    if (seq === undefined) return;
    const keep = encodeMessage('keep', { v: 1, seq });
    setImmediate(() => this.broker.publish(formatTopic(site, sensor, 'keep'), keep));
  }
}

describe('over a broker', () => {
  const shop = new Shop();
  beforeAll(() => shop.open());
  afterAll(() => shop.broker.close());

  test('replay brings a recording as it was, count for count, and ends offline', async () => {
    await sensor(['--scenario', 'healthy-steel', '--seconds', '8', '--record', at('r.cfg')], never);
    const { username, password } = await shop.accounts.add('harbour-lane.replay');
    const broker = shop.url.replace('//', `//${username}:${password}@`);
    expect(await replay([at('r.cfg'), '--broker', broker, '--speed', '10'], never)).toBe(0);
    expect(shop.faults).toEqual([]);
    const [about] = shop.of<About>('replay', 'about');
    const waves = shop.of<Wave>('replay', 'wave');
    expect(waves.length).toBeGreaterThan(10);
    expect(shop.of<ArcEdge>('replay', 'arc').length).toBeGreaterThan(1);
    const values: number[][] = [[], []];
    const { reader } = openRecordingFile(at('r.cfg'));
    for (let block = reader.next(); block; block = reader.next())
      for (const [channel, column] of block.channels.entries())
        for (let n = 0; n < block.frames; n++) values[channel]!.push(column[n]!);
    for (const { first, n, data } of waves)
      for (let frame = 0; frame < n; frame += 97)
        for (const channel of [0, 1])
          expect(
            Math.abs(
              data[2 * frame + channel]! -
                values[channel]![first + frame]! / about!.scale[channel]!,
            ),
          ).toBeLessThanOrEqual(2); // an offset learned on the way is taken off
    expect(shop.of<State>('replay', 'state').at(-1)!.state).toBe('offline');
  }, 30_000);

  test('replay ends in one line where the broker refuses it', async () => {
    await sensor(['--scenario', 'healthy-steel', '--seconds', '1', '--record', at('q.cfg')], never);
    const broker = shop.url.replace('//', '//harbour-lane.nobody:wrong@');
    const run = replay([at('q.cfg'), '--broker', broker], never);
    await expect(run).rejects.toThrow(/^mqtt:.*refused/i);
  }, 30_000);

  test('the sensors of a scenario connect, tell rows and stop in good order', async () => {
    const scenario = scenarioOf('harbour-lane');
    const names = scenario.bays.flatMap(({ sensors }) => sensors.map(({ name }) => name));
    const credentials = new Map<string, { username: string; password: string }>();
    for (const name of names) credentials.set(name, await shop.accounts.own(`shop.${name}`));
    const { stopped } = await startSensors({
      scenario,
      seed: 1,
      speed: 5,
      brokerUrl: shop.url,
      credentials: (name) => credentials.get(name)!,
      flashDir: at('flash'),
      site: 'shop',
      signal: never,
      seconds: 12,
    });
    await stopped;
    expect(names.length).toBeGreaterThanOrEqual(4);
    for (const name of names) {
      expect(shop.of(name, 'about')).toHaveLength(1);
      expect(shop.of(name, 'rows').length, name).toBeGreaterThan(0);
      expect(shop.of<State>(name, 'state').at(-1)!.state).toBe('offline');
    }
    expect(shop.faults).toEqual([]);
  }, 30_000);
});
