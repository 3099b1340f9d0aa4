import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import type { ArcDetail, ArcPage } from '../../shared/protocol/http.ts';
import type { Check } from '../../shared/protocol/http-check.ts';
import { axeFaults } from './axe.ts';
import { launchChromium, overflow, sizes } from './chromium.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

vi.setConfig({ testTimeout: 240_000, hookTimeout: 120_000 });
const data = mkdtempSync(join(tmpdir(), 'stiffline-ends-'));
const recorded = join(data, 'bay-2.cff');
const flags = ['--seed', '9'];
let browser: Browser;
let shop: RunningShop;

beforeAll(async () => {
  const record = ['sensor', '--scenario', 'harbour-lane', '--point', 'bay-2', '--seconds', '20'];
  spawnSync(process.execPath, ['dist/stiffline.js', ...record, '--record', recorded]);
  browser = await launchChromium();
  shop = await startShop(flags, join(data, 'shop'));
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
  rmSync(data, { recursive: true, force: true });
});

const api = async <T>(path: string, init?: RequestInit) =>
  (await (await fetch(new URL(`/api/v1${path}`, shop.url), init)).json()) as T;

async function look(page: Page, name: string): Promise<void> {
  for (const [size, viewport] of Object.entries({
    ...sizes,
    narrow: { width: 320, height: 640 },
  })) {
    await page.setViewportSize(viewport);
    expect(await axeFaults(page)).toEqual([]);
    await expect.poll(() => overflow(page)).toBeLessThanOrEqual(0);
    await page.screenshot({ path: `tests/.out/${name}-${size}.png`, fullPage: true });
  }
}

test('one weld seen at both ends shows who took the voltage, and raises one flag', async () => {
  const find = async () => {
    const { arcs } = await api<ArcPage>('/arcs?sensor=harbour-lane.bay-1-outlet&limit=20');
    return arcs.find(({ twin, countedBy }) => twin !== null && countedBy === twin) ?? null;
  };
  await expect.poll(find, { timeout: 90_000, interval: 500 }).not.toBeNull();
  const outlet = (await find())!;
  const { split, twin } = await api<ArcDetail>(`/arcs/${outlet.twin}`);
  expect(twin!.id).toBe(outlet.id);
  expect(split!.doubt).toBeNull();
  const { building, cord } = split!.atArc!;
  expect(cord.volts / building.volts).toBeGreaterThan(1.8);
  expect(await api<{ flags: number }>('/sensors/harbour-lane.bay-1-outlet')).toMatchObject({
    flags: 0,
  });
  const page = await browser.newPage({ reducedMotion: 'reduce' });
  await page.goto(new URL(`#/arc/${outlet.twin}`, shop.url).href);
  await page.locator('.split .fall').first().waitFor();
  await page.getByText('The cord takes the most').waitFor();
  await look(page, 'split');
  await page.locator('.split .twin a').click();
  await page.getByText('this arc raises no flag of its own').waitFor();
  await page.close();
});

test('a recorded bead is judged like a live check, and kept with its name', async () => {
  const page = await browser.newPage({ viewport: sizes.phone, reducedMotion: 'reduce' });
  await page.goto(new URL('#/checks', shop.url).href);
  await page.getByText('From a recording').click();
  const form = page.locator('.from-recording form');
  await look(page, 'recording-begin');
  await form.locator('select').nth(1).selectOption({ label: 'Bay 2, 240 V welder outlet' });
  await form.locator('select').nth(2).selectOption({ label: 'Gannet 220 Pulse' });
  await form.locator('select').first().selectOption('machine');
  await form.getByLabel('Where the vehicle stands').fill('Left lift');
  await form.getByLabel('Your name').fill('Ida');
  await form.getByRole('button', { name: 'Judge the recording' }).click();
  await page.getByText('Choose a recording first.').waitFor();
  await form.getByLabel('The recording').setInputFiles(recorded);
  await form.getByRole('button', { name: 'Judge the recording' }).click();
  await page.locator('section.verdict h1').waitFor({ timeout: 90_000 });
  expect(await page.locator('section.verdict h1').textContent()).toBe('Adequate');
  await page.locator('.verdict').getByText('from the recording bay-2.cff').waitFor();
  await look(page, 'recording-judged');
  await page.close();
});

test('what is wrong in a recording is said in German on a German page', async () => {
  const page = await browser.newPage({
    ...{ viewport: sizes.phone, locale: 'de-DE', reducedMotion: 'reduce' },
  });
  await page.goto(new URL('#/checks', shop.url).href);
  await page.locator('.from-recording summary').click();
  const form = page.locator('.from-recording form');
  await form.getByLabel('Wo das Fahrzeug steht').fill('Hebebühne links');
  await form.getByLabel('Ihr Name').fill('Ida');
  const wrong = {
    'hub.csv': [
      't_s,v1_V,amps\n0,1,1\n',
      'hub.csv: Zeile 1, Spalte 3: im Kopf steht „amps“, nötig ist „i1_A“.',
    ],
    'hub.cff': [
      '--- file type: CFG ---\nhub,1,2013\n',
      'hub.cff: Die Datei endet ohne Messwerte, nötig ist „--- file type: DAT … ---“.',
    ],
    'hub.cfg': ['hub,1,2013\n', 'hub.cfg: Die andere Hälfte, hub.dat, fehlt.'],
  };
  for (const [name, [text, says]] of Object.entries(wrong)) {
    const buffer = Buffer.from(text!);
    await form.locator('input[type=file]').setInputFiles({ name, mimeType: 'text/csv', buffer });
    await form.locator('button[type=submit]').click();
    await form.getByText(says!).waitFor();
    await page.screenshot({ path: `tests/.out/german-recording-${name}.png` });
  }
  await page.close();
});

test('a check under way outlives a kill, and the page goes on with it', async () => {
  const page = await browser.newPage({ viewport: sizes.phone, reducedMotion: 'reduce' });
  await page.goto(new URL('#/checks', shop.url).href);
  await page.getByLabel(/^Sensor/).selectOption('harbour-lane.bay-2');
  const form = page.locator('form.editor').first();
  await form.getByLabel('Where the vehicle stands').fill('Left lift');
  await form.getByLabel('Your name').fill('Ida');
  await page.getByRole('button', { name: 'Begin the check' }).click();
  await page.getByRole('heading', { name: 'Bead on a coupon' }).waitFor({ timeout: 90_000 });
  const id = Number(new URL(page.url()).hash.split('/').at(-1));
  const whole = async () => {
    const { bead, telling } = await api<Check>(`/checks/${id}`);
    return bead !== null && telling.choices.includes('judge');
  };
  await expect.poll(whole, { timeout: 90_000 }).toBe(true);
  const before = await api<Check>(`/checks/${id}`);
  await shop.kill();
  shop = await startShop(flags, join(data, 'shop'));
  const after = await api<Check>(`/checks/${id}`);
  expect(after.telling).toMatchObject({ step: before.telling.step });
  expect(after.telling.note).toContain('started anew');
  expect(after.bead).not.toBeNull();
  // On its new port, as the old one would be if it had a fixed one.
  await page.goto(new URL(`#/check/${id}`, shop.url).href);
  await page.getByText('The server was started anew').waitFor();
  await look(page, 'check-restarted');
  const heights = await page
    .locator('.choices-now button')
    .evaluateAll((buttons) => buttons.map((button) => button.getBoundingClientRect().height));
  expect(Math.min(...heights)).toBeGreaterThanOrEqual(56);
  await page.getByRole('button', { name: 'Have it judged' }).click();
  await page.locator('section.verdict h1').waitFor();
  await page.close();
});
