import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { de } from '../../shared/words/de.ts';
import { en } from '../../shared/words/en.ts';
import { axeFaults } from './axe.ts';
import { launchChromium, sizes } from './chromium.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

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

/** Every English text of the page's own that German says otherwise, long enough to be no chance. */
function englishOnly(english: object, german: object): string[] {
  return Object.entries(english).flatMap(([key, text]) => {
    const other = (german as Record<string, unknown>)[key];
    if (typeof text === 'string') return text !== other && text.length > 7 ? [text] : [];
    return text && typeof text === 'object' ? englishOnly(text, other as object) : [];
  });
}
const english = englishOnly({ ...en, sentences: {} }, { ...de, sentences: {} });
const shown = (page: Page) => page.locator('body').textContent();

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
  const views = [
    ['floor', '#/', '.card'],
    ['wall', '#/wall', '.place'],
    ['settings', '#/settings', 'form.rows'],
  ] as const;
  for (const [name, hash, ready] of views) {
    await page.goto(new URL(hash, shop.url).href);
    await page.locator(ready).first().waitFor();
    const text = (await shown(page)) ?? '';
    expect(english.filter((each) => text.includes(each))).toEqual([]);
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
