import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Sensor, StoredCircuit, StoredPlate } from '../../shared/protocol/http.ts';
import type { Check } from '../../shared/protocol/http-check.ts';
import { axeFaults } from './axe.ts';
import { launchChromium, overflow, sizes } from './chromium.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

/** A 120 V machine on the shop's 240 V outlet. */
let browser: Browser;
let shop: RunningShop;
const bay = 'harbour-lane.bay-2';
const headline = 'Wrong voltage: do not plug in';

beforeAll(async () => {
  browser = await launchChromium();
  shop = await startShop(['--seed', '5', '--speed', '2']);
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
});

async function ask<T>(path: string, method = 'GET', body?: object): Promise<T> {
  const answer = await fetch(new URL(`/api/v1${path}`, shop.url), {
    method,
    ...(body && { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
  });
  expect(answer.status, `${method} ${path}`).toBeLessThan(300);
  return (await answer.json()) as T;
}
const sensor = () => ask<Sensor>(`/sensors/${bay}`);
async function plate(name: string): Promise<number> {
  const all = await ask<StoredPlate[]>('/plates');
  return all.find((one) => one.plate.name === name)!.id;
}

/** Clean by axe-core, no sideways scrolling, and a picture of it on a phone and at a desk. */
async function look(page: Page, name: string): Promise<void> {
  for (const [size, viewport] of Object.entries(sizes)) {
    await page.setViewportSize(viewport);
    expect(await axeFaults(page), `${name} ${size}`).toEqual([]);
    await expect.poll(() => overflow(page)).toBeLessThanOrEqual(0);
    await page.screenshot({ path: `tests/.out/unsuited-${name}-${size}.png`, fullPage: true });
  }
}

async function open(path: string, more: object = {}): Promise<Page> {
  const page = await browser.newPage({ viewport: sizes.phone, reducedMotion: 'reduce', ...more });
  await page.goto(new URL(path, shop.url).href);
  return page;
}

test('a check of the wrong machine ends before any weld, and changes nothing', async () => {
  const stored = async () =>
    JSON.stringify([
      await ask<StoredCircuit[]>('/circuits'),
      await ask<StoredPlate[]>('/plates'),
      (({ circuit, plate }) => [circuit, plate])(await sensor()),
    ]);
  const page = await open('#/checks');
  await page.getByLabel(/^Sensor/).selectOption(bay);
  const before = await stored();
  const form = page.locator('form.editor').first();
  await form.getByLabel('Machine').selectOption({ label: 'Tern 100' });
  await form.getByLabel('Wire size').selectOption({ label: '10 AWG' });
  await form.getByLabel('Length').fill('25');
  await form.getByLabel('Where the vehicle stands').fill('Left lift');
  await form.getByLabel('Your name').fill('Ida');
  await form.getByRole('button', { name: 'Begin the check' }).click({ timeout: 90_000 });
  const banner = page.locator('.step .mismatch');
  await banner.getByText(headline).waitFor();
  await page.getByText('Do not plug the machine in here.').waitFor();
  await look(page, 'check-step');
  await page.locator('.choices-now button.main').click({ timeout: 120_000 });
  await page.locator('section.verdict h1').getByText(headline).waitFor();
  await page.getByText('takes no more than 132 V').first().waitFor();
  expect(await stored()).toBe(before);
  await page.getByRole('button', { name: 'Save this cord for the outlet' }).waitFor();
  await look(page, 'check-judged');
  await page.emulateMedia({ media: 'print' });
  await page.screenshot({ path: 'tests/.out/unsuited-check-print.png', fullPage: true });
  await page.emulateMedia({ media: 'screen' });
  // Nobody is asked to assign what must not be plugged in.
  expect(await page.getByRole('button', { name: 'Assign Tern 100' }).count()).toBe(0);
  // Only what a person presses is saved.
  await page.getByRole('button', { name: 'Save this cord for the outlet' }).click();
  await page
    .getByRole('button', { name: 'Save this cord for the outlet' })
    .waitFor({ state: 'detached' });
  expect((await sensor()).circuit!.circuit.cords).toEqual([{ awg: 10, feet: 25 }]);
  expect((await sensor()).plate!.plate.name).toBe('Gannet 220 Pulse');
  const [kept] = await ask<Check[]>('/checks');
  expect(kept).toMatchObject({ verdict: 'unsuited' });
  await page.close();
});

test('the wrong machine is told where it is assigned, on floor, wall and its page', async () => {
  const page = await open('#/shop');
  const at = page.locator('fieldset.rows', { hasText: 'bay-2' });
  await at.getByLabel('Machine').selectOption(String(await plate('Tern 100')));
  await at.locator('.mismatch').getByText(headline).waitFor();
  await look(page, 'shop');
  await page.goto(new URL('#/', shop.url).href);
  const card = page.locator('.card', { hasText: 'Bay 2' });
  await card.locator('.mismatch').getByText(headline).waitFor();
  await look(page, 'floor');
  await page.getByRole('radio', { name: 'Flagged' }).check({ force: true });
  await card.waitFor();
  await page.getByRole('radio', { name: 'All' }).check({ force: true });
  await page.goto(new URL('#/wall', shop.url).href);
  await page.locator('.place .word').getByText(headline).waitFor();
  await look(page, 'wall');
  await page.goto(new URL(`#/circuit/${bay}`, shop.url).href);
  await page.locator('.standing .mismatch').getByText(headline).waitFor();
  await look(page, 'circuit');
  await page.close();
});

test('an arc of it is unsuited: on its page, among the flags, on paper, in German', async () => {
  const found = async () =>
    (await ask<{ arcs: { id: number; sensor: string }[] }>('/arcs?verdict=unsuited')).arcs;
  await expect.poll(async () => (await found()).length, { timeout: 120_000 }).toBeGreaterThan(0);
  const [arc] = await found();
  const page = await open(`#/arc/${arc!.id}`);
  await page.locator('.verdict h1').getByText(headline).waitFor();
  await look(page, 'arc');
  await page.emulateMedia({ media: 'print' });
  await page.screenshot({ path: 'tests/.out/unsuited-arc-print.png', fullPage: true });
  await page.emulateMedia({ media: 'screen' });
  await page.goto(new URL(`#/flags/${bay}`, shop.url).href);
  await page.locator('.flag-list .mark.unsuited').first().waitFor();
  await look(page, 'flags');
  const csv = await (await fetch(new URL('/api/v1/arcs.csv', shop.url))).text();
  expect(csv).toContain('unsuited');
  await page.close();
  const german = await open(`#/arc/${arc!.id}`, { locale: 'de-DE' });
  await german.locator('.verdict h1').getByText('Falsche Spannung: nicht einstecken').waitFor();
  await look(german, 'arc-german');
  await german.goto(new URL('#/', shop.url).href);
  await german.locator('.mismatch').getByText('Falsche Spannung').waitFor();
  await look(german, 'floor-german');
  await german.close();
});

test('a plan has a mark and a legend for it, apart from what is underpowered', async () => {
  const page = await open('#/plan');
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.locator('.overview tbody td').first().waitFor();
  expect(await page.locator('.legend .mark').count()).toBe(5);
  await page.locator('.overview td .mark.unsuited').first().waitFor();
  await look(page, 'plan');
  await page.close();
});
