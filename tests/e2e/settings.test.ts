import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Sensor } from '../../shared/protocol/http.ts';
import { de } from '../../shared/words/de.ts';
import { en } from '../../shared/words/en.ts';
import { axeFaults } from './axe.ts';
import { launchChromium, sizes } from './chromium.ts';
import { englishOn, namesIn } from './english-on.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';
import { weakArcs } from './weak-arcs.ts';

let browser: Browser;
let shop: RunningShop;

beforeAll(async () => {
  browser = await launchChromium();
  shop = await startShop(['--seed', '3']);
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
});

async function open(hash: string, ready: string): Promise<Page> {
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  await page.goto(new URL(hash, shop.url).href);
  await page.locator(ready).first().waitFor();
  return page;
}

test('a device speaks German and counts in metres at once, and keeps to it', async () => {
  const page = await open('#/settings', 'form.rows');
  expect(await page.getAttribute('html', 'lang')).toBe('en');
  const device = page.locator('section.rows');
  await device.getByLabel(en.settings.language).selectOption('de');
  await page.getByRole('heading', { name: de.settings.heading, level: 1 }).waitFor();
  expect(await page.getAttribute('html', 'lang')).toBe('de');
  await device.getByLabel(de.settings.units).selectOption('metric');
  await device.getByLabel(de.settings.zone).selectOption('Asia/Tokyo');
  for (const [name, size] of Object.entries({ ...sizes, narrow: { width: 320, height: 256 } })) {
    await page.setViewportSize(size);
    expect(await axeFaults(page)).toEqual([]);
    await page.screenshot({ path: `tests/.out/settings-${name}.png`, fullPage: true });
  }
  const names = await namesIn(shop.url);
  const views = [
    ['floor', '#/', '.card'],
    ['wall', '#/wall', '.place'],
    ['settings', '#/settings', 'form.rows'],
  ] as const;
  for (const [name, hash, ready] of views) {
    await page.goto(new URL(hash, shop.url).href);
    await page.locator(ready).first().waitFor();
    expect(await englishOn(page, names)).toEqual([]);
    for (const [size, viewport] of Object.entries(sizes)) {
      await page.setViewportSize(viewport);
      await page.screenshot({ path: `tests/.out/german-${name}-${size}.png` });
    }
  }
  await page.close();
});

test('a verdict is said in German, its figures with a comma', async () => {
  const page = await browser.newPage({ viewport: sizes.desk, locale: 'de-DE' });
  await page.goto(new URL('#/', shop.url).href);
  const words = page.locator('.card .said strong').first();
  await words.waitFor({ timeout: 30_000 });
  expect(Object.values(de.parts.verdicts)).toContain(await words.textContent());
  await expect
    .poll(async () => (await page.locator('.value').allInnerTexts()).join(' '))
    .toMatch(/\d,\d/);
  const says = await page.locator('.card .said').first().textContent();
  expect(says).not.toMatch(/\b(the|voltage|needs|held|fell)\b/i);
  await page.screenshot({ path: 'tests/.out/german-said-desk.png' });
  await page.close();
});

test('every view speaks German, and what the server says too', async () => {
  const bay = 'harbour-lane.bay-1-machine';
  const arcs = await weakArcs(shop.url, 2);
  // No check begins while an arc burns.
  const at = new URL('/api/v1/sensors/harbour-lane.bay-2', shop.url);
  const burns = async () => ((await (await fetch(at)).json()) as Sensor).openArc !== null;
  await expect.poll(burns, { interval: 20 }).toBe(false);
  const check = await send('/checks', {
    ...{ sensor: 'harbour-lane.bay-2', person: 'Ida', place: 'Tor', circuit: 2, plate: 2 },
    ...{ cords: [], cordFrom: 'first-bead' },
  });
  await send('/jobs', { number: '2611-04', vehicle: 'Kastenwagen', by: 'Ida' });
  const sheet = { metal: 'DC04', thick: { mm: 1 } };
  const work = { process: 'mig-steel', sheets: [sheet, sheet], joint: 'plug', position: 'flat' };
  const sheets = { work: { ...work, pulse: false }, procedure: { reference: 'V-12' } };
  await send('/jobs/1/set-ups', { sensor: 'harbour-lane.bench', by: 'Ida', sheet: sheets });
  await send('/set-ups/1/coupons', { by: 'Ida' });
  const wire = { awg: 4, metal: 'copper', feet: 90 };
  const feeder = { name: 'F1', volts: 240, conductor: wire, breakerAmps: 60, circuits: [1, 2, 3] };
  await send('/feeders', feeder);
  const names = await namesIn(shop.url);
  const views = {
    circuit: [`#/circuit/${bay}`, '.arcs li'],
    arc: [`#/arc/${arcs[0]}`, '.chart canvas'],
    'two arcs': [`#/arc/${arcs[0]}/beside/${arcs[1]}`, '.beside canvas'],
    flags: ['#/flags', '.flag-list li'],
    checks: ['#/checks', '.check select'],
    check: [`#/check/${check.id}`, '.wants li'],
    remedies: [`#/right/${bay}`, '.remedies li'],
    plan: ['#/plan', '.plan input'],
    shop: ['#/shop', '.stock a'],
    plate: ['#/edit-plate/1', '.editor input'],
    'new circuit': ['#/edit-circuit/new', '.editor input'],
    feeder: ['#/edit-feeder/1', '.editor input'],
    people: ['#/people', '.people .editor input'],
    changes: ['#/audit', '.changes li'],
    jobs: ['#/jobs', '.jobs .editor input'],
    job: ['#/job/1', '.jobs a.main, .jobs .job-list a'],
    'set-up': ['#/set-up/1', 'main h1'],
    'no such job': ['#/job/99', 'main h1'],
  } satisfies Record<string, [string, string]>;
  const page = await browser.newPage({ viewport: sizes.desk, locale: 'de-DE' });
  const left: Record<string, string[]> = {};
  for (const [name, [hash, ready]] of Object.entries(views)) {
    await page.goto(new URL(hash, shop.url).href);
    await page.locator(ready).first().waitFor();
    if (name === 'plan') {
      await page.getByRole('button', { name: de.plan.workOut }).click();
      await page.locator('#plan-made').waitFor();
    }
    const english = await englishOn(page, names);
    if (english.length > 0) left[name] = english;
  }
  expect(left).toEqual({});
  await page.close();
});

async function send(path: string, body: unknown): Promise<{ id: number }> {
  const answer = await fetch(new URL(`/api/v1${path}`, shop.url), {
    ...{ method: 'POST', headers: { 'content-type': 'application/json' } },
    body: JSON.stringify(body),
  });
  expect(answer.status, await answer.clone().text()).toBe(201);
  return (await answer.json()) as { id: number };
}

test('what is saved for the shop holds for a device that has nothing of its own', async () => {
  const page = await open('#/settings', 'form.rows');
  const form = page.locator('form.rows');
  await form.getByLabel(en.settings.mains).selectOption('50');
  await form.getByLabel(en.settings.units).selectOption('metric');
  await form.getByLabel(en.settings.language).selectOption('de');
  await form.getByLabel(en.settings.zone).selectOption('Europe/Berlin');
  await form.getByRole('button', { name: en.settings.save }).click();
  await page.getByText(en.settings.saved).waitFor();
  await page.close();
  const other = await open('#/settings', 'form.rows');
  // A device that has never been here asks the shop, and then speaks as it does.
  await expect.poll(() => other.getAttribute('html', 'lang')).toBe('de');
  const mains = other.locator('form.rows').getByLabel(de.settings.mains);
  await expect.poll(() => mains.inputValue()).toBe('50');
  await other.close();
});
