import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { get, Program, until } from './program.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-programs-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('stiffline broker and stiffline serve, each by itself', () => {
  it('makes an account for a sensor, which the running broker then knows', async () => {
    const data = join(folder, 'data');
    const broker = new Program('broker', '--data', data, '--mqtt-port', '0');
    const url = await broker.line();
    expect(url).toMatch(/^mqtt:\/\/127\.0\.0\.1:\d+$/);
    const adding = new Program('broker', '--data', data, '--add-sensor', 'shop.bay-7');
    expect(await adding.ended()).toBe(0);
    const account = JSON.parse(adding.out) as { username: string; password: string };
    expect(account.username).toBe('shop.bay-7');
    const client = await connectAsync(url, account);
    await client.endAsync();
    const serve = new Program('serve', '--data', data, '--broker', url, '--http-port', '0');
    expect(await get(await serve.line(), 'readyz')).toEqual({ ready: true });
    await until(() => serve.err.includes('connected to'), 10_000, serve.err);
    // The broker goes: the server says so, goes on, and ends when it is told to.
    expect(await broker.stop()).toBe(0);
    await until(() => serve.err.includes('not connected'), 10_000, serve.err);
    expect(await serve.stop()).toBe(0);
  });

  it('says in one line what is missing or wrong', async () => {
    const bare = new Program('serve', '--data', join(folder, 'bare'), '--http-port', '0');
    expect(await bare.ended()).toBe(1);
    expect(bare.err).toMatch(/^stiffline: .*server\.json: .*stiffline broker --data.*\n$/);
    const named = new Program('broker', '--data', join(folder, 'x'), '--add-sensor', 'Bay 7');
    expect(await named.ended()).toBe(1);
    expect(named.err).toMatch(/^stiffline: --add-sensor "Bay 7": SITE\.SENSOR .*\n$/);
    const flag = new Program('serve', '--port', '80');
    expect(await flag.ended()).toBe(2);
  });

  it('asks other devices for a code where it listens to them', async () => {
    const data = join(folder, 'open');
    const run = new Program(
      ...['run', '--no-sensors', '--host', '0.0.0.0', '--data', data],
      ...['--http-port', '0', '--mqtt-port', '0'],
    );
    expect(await run.line()).toMatch(/^http:\/\/localhost:\d+\/$/);
    expect(run.err).toMatch(/access code \d{4}-\d{4}\n/);
    expect(await run.stop('SIGINT')).toBe(0);
  });
});
