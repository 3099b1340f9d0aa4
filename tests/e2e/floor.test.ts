import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launchChromium, overflow, sizes } from './chromium.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

let browser: Browser;
let shop: RunningShop;
let startedMs: number;

beforeAll(async () => {
  browser = await launchChromium();
  shop = await startShop(['--seed', '1']);
  startedMs = Date.now();
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
});

describe.each(Object.entries(sizes))('the page on a %s', (name, viewport) => {
  test('shows every circuit live, and the first judged arc within ten seconds', async () => {
    const page = await browser.newPage({ viewport });
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(error.message));
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    await page.goto(shop.url);
    await page.getByRole('status').getByText('Live').waitFor({ timeout: 10_000 });
    await expect.poll(() => page.locator('article.card').count()).toBeGreaterThanOrEqual(4);
    await page.locator('a.said').first().waitFor({ timeout: 20_000 });
    // The promise is counted from the line with the URL, for the first page that was opened.
    if (name === 'phone') expect(Date.now() - startedMs).toBeLessThan(10_000);
    const words = await page.locator('a.said').first().textContent();
    expect(words).toMatch(/^(Adequate|Marginal|Underpowered|Unproven)/);
    await page.screenshot({ path: `tests/.out/floor-${name}.png`, fullPage: true });
    expect(faults).toEqual([]);
    await page.close();
  });

  test('opens an arc: verdict, findings with sources, rows and waveform drawn', async () => {
    const page = await browser.newPage({ viewport });
    await page.goto(shop.url);
    await page.locator('a.said').first().click();
    await page.locator('section.verdict h1').waitFor();
    expect(await page.locator('.findings li').count()).toBeGreaterThanOrEqual(4);
    await page.locator('.chart canvas').nth(1).waitFor();
    expect(await drawnShare(page, 0)).toBeGreaterThan(0.001);
    expect(await drawnShare(page, 1)).toBeGreaterThan(0.001);
    await page.screenshot({ path: `tests/.out/arc-${name}.png`, fullPage: true });
    await expect.poll(() => overflow(page)).toBeLessThanOrEqual(0);
    await page.close();
  });
});

test('tells a lost server from a live one, and comes back by itself', async () => {
  const own = await startShop(['--no-sensors']);
  const port = new URL(own.url).port;
  const page = await browser.newPage({ viewport: sizes.phone });
  await page.goto(own.url);
  await page.getByRole('status').getByText('Live').waitFor();
  await own.kill();
  await page.getByRole('status').getByText('Cut off').waitFor({ timeout: 10_000 });
  const again = await startShop(['--no-sensors', '--http-port', port], own.data);
  await page.getByRole('status').getByText('Live').waitFor({ timeout: 20_000 });
  await page.close();
  await again.stop();
});

/** Part of a canvas's pixels that carry ink. */
function drawnShare(page: Awaited<ReturnType<Browser['newPage']>>, index: number) {
  return page
    .locator('.chart canvas')
    .nth(index)
    .evaluate((canvas: HTMLCanvasElement) => {
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
      let inked = 0;
      for (let at = 3; at < data.length; at += 4) inked += data[at] === 0 ? 0 : 1;
      return inked / (data.length / 4);
    });
}
