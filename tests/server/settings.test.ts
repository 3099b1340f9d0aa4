import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import type { ShopSettings } from '../../shared/protocol/http-settings.ts';
import { type Built, buildServer } from './built.ts';

const metric: ShopSettings = {
  ...{ hertz: 50, units: 'metric', language: 'de' },
  timeZone: 'Europe/Berlin',
};
const nothing = { hertz: null, units: 'us', language: null, timeZone: null };

let built: Built;
beforeEach(async () => {
  built = await buildServer();
});
afterEach(() => built.close());

const url = '/api/v1/settings';
const put = (payload: object) => built.app.inject({ url, method: 'PUT', payload });

test('nothing is settled at first; what is put is kept, and stands in the audit list', async () => {
  expect((await built.app.inject(url)).json()).toEqual(nothing);
  expect((await put(metric)).json()).toEqual(metric);
  expect((await built.app.inject(url)).json()).toEqual(metric);
  await put(metric);
  const entries = built.store.audit.list({ area: 'settings', limit: 10 });
  expect(entries).toHaveLength(1);
  expect(entries[0]).toMatchObject({ subject: 'shop', before: nothing, after: metric });
  expect(entries[0]!.says).toMatch(/hertz .*50/);
});

test.each([
  [{ ...metric, timeZone: 'Nowhere/Atlantis' }, /timeZone "Nowhere\/Atlantis" is no IANA/],
  [{ ...metric, hertz: 55 }, /hertz/],
  [{ ...metric, units: 'furlong' }, /units/],
  [{ hertz: 50 }, /units|required/],
  [{ ...metric, colour: 'red' }, /additional|colour/],
])('what cannot be is refused by its name and changes nothing: %j', async (body, says) => {
  const answer = await put(body);
  expect(answer.statusCode).toBe(400);
  expect(answer.json().detail).toMatch(says);
  expect(built.store.settings.get()).toEqual(nothing);
});

test('a plan takes circuits that name no frequency for the shop’s', async () => {
  const lists = {
    machines: [
      {
        ...{ name: 'Tern', phases: 1, supply: [{ U1: 120, I1max: 20 }], price: 1 },
        processes: ['mig-steel'],
      },
    ],
    circuits: [{ name: 'Bay', volts: 120, branch: { awg: 10, metal: 'copper', feet: 60 } }],
    needs: [],
  };
  const planned = async () =>
    (await built.app.inject({ url: '/api/v1/plan', method: 'POST', payload: lists })).json()
      .matrix[0].voltsAtFullLoad as number;
  const before = await planned();
  await put(metric);
  expect(await planned()).not.toBeCloseTo(before, 1);
});

test('a file remembers', () => {
  const folder = mkdtempSync(join(tmpdir(), 'stiffline-settings-'));
  const path = join(folder, 'a.sqlite');
  const first = new SqliteStore(path);
  first.settings.set(metric);
  first.close();
  const again = new SqliteStore(path);
  expect(again.settings.get()).toEqual(metric);
  again.close();
  rmSync(folder, { recursive: true });
});
