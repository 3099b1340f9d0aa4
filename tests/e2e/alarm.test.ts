import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchChromium, sizes } from './chromium.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

let browser: Browser;
let shop: RunningShop;

beforeAll(async () => {
  browser = await launchChromium();
  shop = await startShop(['--seed', '1']);
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
});

/** Keeps, in the page, what the alarm gives to ear and hand. */
const listen = `
  globalThis.given = { notes: 0, shakes: 0 };
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (...at) {
    given.notes++;
    return start.apply(this, at);
  };
  navigator.vibrate = () => Boolean(++given.shakes);
`;
const given = (page: Page) => page.evaluate('given') as Promise<{ notes: number; shakes: number }>;

test('the alarm is silent until asked for, tells of weak welds, says when held back', async () => {
  const page = await browser.newPage({ viewport: sizes.phone });
  await page.addInitScript(listen);
  await page.goto(shop.url);
  await page.locator('.card.arc.underpowered').first().waitFor({ timeout: 30_000 });
  expect(await given(page)).toEqual({ notes: 0, shakes: 0 });

  const button = page.getByRole('button', { name: /^Sound/ });
  await button.click();
  await button.getByText('Sound on').waitFor();
  // First the sample that tells what to listen for, then a weld.
  await expect.poll(async () => (await given(page)).shakes).toBeGreaterThanOrEqual(1);
  const { shakes } = await given(page);
  await expect
    .poll(async () => (await given(page)).shakes, { timeout: 30_000 })
    .toBeGreaterThan(shakes);
  const told = await given(page);
  expect(told.notes).toBe(2 * told.shakes);

  // A page that nobody has touched since it was loaded must not promise a sound.
  await page.reload();
  await button.getByText('Sound waits').waitFor();
  await page.screenshot({ path: 'tests/.out/sound-waits-phone.png' });
  await page.locator('.card.arc.underpowered').first().waitFor({ timeout: 30_000 });
  await expect.poll(async () => (await given(page)).shakes).toBeGreaterThanOrEqual(1);
  expect((await given(page)).notes).toBe(0);
  await page.goto(`${shop.url}#/wall`);
  await page.reload();
  await button.getByText('Sound waits').waitFor();
  await page.locator('.place').first().waitFor();
  await page.screenshot({ path: 'tests/.out/sound-waits-wall.png' });
  await page.getByRole('heading', { level: 2 }).first().click();
  await expect.poll(() => button.count()).toBe(0);
  await page.close();
});
