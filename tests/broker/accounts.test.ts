import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Accounts } from '../../broker/accounts.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-accounts-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

describe('accounts', () => {
  it('knows a secret again, also after a restart, and no other', async () => {
    const made = await new Accounts(folder).add('harbour-lane.bay-1');
    const accounts = new Accounts(folder);
    const sensor = { role: 'sensor', site: 'harbour-lane', sensor: 'bay-1' };
    expect(await accounts.check(made.username, made.password)).toEqual(sensor);
    expect(await accounts.check(made.username, made.password)).toEqual(sensor);
    expect(await accounts.check(made.username, `${made.password}x`)).toBeNull();
    expect(await accounts.check('harbour-lane.bay-2', made.password)).toBeNull();
    expect(await accounts.check('constructor', made.password)).toBeNull();
  });

  it('keeps no secret in its file, and its own in files only the owner reads', async () => {
    const own = await new Accounts(folder).own('server');
    expect(readFileSync(join(folder, 'accounts.json'), 'utf8')).not.toContain(own.password);
    for (const file of ['accounts.json', 'secrets/server.json'])
      expect(statSync(join(folder, file)).mode & 0o777).toBe(0o600);
    expect(await new Accounts(folder).own('server')).toEqual(own);
  });

  it('takes an account that another process added meanwhile', async () => {
    const running = new Accounts(folder);
    const made = await new Accounts(folder).add('harbour-lane.bay-9');
    expect(await running.check(made.username, made.password)).not.toBeNull();
  });

  it.each(['bay-1', 'Harbour.bay', 'a.b.c', '../x.y', ''])(
    'makes no account named %j',
    async (name) => {
      await expect(new Accounts(folder).add(name)).rejects.toThrow('site.sensor is needed');
    },
  );

  it('names a broken file in one line', () => {
    writeFileSync(join(folder, 'accounts.json'), '{"version": 2}');
    expect(() => new Accounts(folder)).toThrow('not an accounts file of version 1');
  });
});
