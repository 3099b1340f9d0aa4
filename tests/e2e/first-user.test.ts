import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFaults } from './axe.ts';
import { launchChromium, sizes } from './chromium.ts';
import { followCheck } from './follow-check.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

let browser: Browser;
let shop: RunningShop;

beforeAll(async () => {
  browser = await launchChromium();
  shop = await startShop(['--seed', '7', '--speed', '2']);
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
});

/** The circuit whose cord is long and thin, at the machine's end. */
const weak = 'harbour-lane.bay-1-machine';

/** Whoever opens it for the first time: from the flag on the floor to the paper in the hand. */
test.each(Object.entries(sizes))(
  'a first visit on a %s, from a weak weld to what makes it right, on paper',
  async (name, viewport) => {
    const page = await browser.newPage({ viewport, reducedMotion: 'reduce' });
    page.setDefaultTimeout(120_000);
    await page.goto(shop.url);
    await acknowledgeOne(page, name);
    await checkOutlet(page);
    expect(await axeFaults(page)).toEqual([]);
    await page.screenshot({ path: `tests/.out/first-check-${name}.png`, fullPage: true });
    expect(await page.locator('section.verdict .what').textContent()).toMatch(/^Outlet check \d+$/);
    expect(await page.locator('section.verdict').textContent()).toMatch(/Mika.*Left lift/);
    expect(await printed(page)).toBe(1);
    await tryHeavierCord(page, name);
    expect(await printed(page)).toBe(1);
    await saveHeavierCord(page, name === 'phone' ? 12 : 10);
    await page.close();
  },
  400_000,
);

/** Sees the flag, opens the weld and reads why, says by name that it was seen. */
async function acknowledgeOne(page: Page, name: string): Promise<void> {
  await page.locator('a.flag-line').click();
  const first = page.locator('.flag-list li').first();
  const href = await first.locator('a').getAttribute('href');
  await first.locator('a').click();
  await page.locator('section.verdict h1', { hasText: 'Underpowered' }).waitFor();
  expect(await page.locator('.sentence').textContent()).toMatch(/V/);
  expect(await page.locator('.findings li').count()).toBeGreaterThan(3);
  await page.locator('.chart canvas').first().waitFor();
  expect(await printed(page)).toBe(1);
  await page.goBack();
  const line = page.locator('.flag-list li', { has: page.locator(`a[href="${href}"]`) });
  await page.locator('main input').first().fill(`Mika on the ${name}`);
  await line.getByRole('button').click();
  await line.waitFor({ state: 'detached' });
}

async function checkOutlet(page: Page): Promise<void> {
  await page.goto(new URL(`#/checks/${weak}`, shop.url).href);
  await page.getByRole('textbox', { name: 'Where the vehicle stands' }).fill('Left lift');
  await page.getByRole('textbox', { name: 'Your name' }).fill('Mika');
  await page.getByRole('button', { name: 'Begin the check' }).click();
  const judged = page.locator('section.verdict h1');
  await followCheck(page, 180_000);
  expect(await judged.textContent()).toBe('Underpowered');
  await page.locator('.remedies li').first().waitFor();
}

/** A thicker cord on the slider holds more volts. */
async function tryHeavierCord(page: Page, name: string): Promise<void> {
  await page.getByRole('link', { name: 'Try other cords' }).click();
  const outcome = page.locator('.outcome');
  await outcome.locator('strong').waitFor();
  const volts = async () =>
    Number(/([\d.]+) V at full load/.exec((await outcome.textContent()) ?? '')?.[1]);
  const before = await volts();
  await page.getByLabel('Wire size').press('End');
  await expect.poll(volts, { timeout: 20_000 }).toBeGreaterThan(before + 2);
  await page.screenshot({ path: `tests/.out/first-cord-${name}.png`, fullPage: true });
}

/** The cord that was bought stands in the circuit's description, for every judgement to come. */
async function saveHeavierCord(page: Page, awg: number): Promise<void> {
  await page.goto(new URL(`#/circuit/${weak}`, shop.url).href);
  await page.locator('a[href^="#/edit-circuit/"]').first().click();
  await page.locator('select[name="cords[0].gauge"]').selectOption(`awg ${awg}`);
  await page.locator('main button[type="submit"]').click();
  await page.locator('.stock li').first().waitFor();
  const sensor = (await (await fetch(new URL(`/api/v1/sensors/${weak}`, shop.url))).json()) as {
    circuit: { circuit: { cords: { awg: number }[] } };
  };
  expect(sensor.circuit.circuit.cords[0]?.awg).toBe(awg);
}

/** Pages of paper that it takes: made as the print button would. */
async function printed(page: Page): Promise<number> {
  const pdf = await page.pdf({ format: 'A4', preferCSSPageSize: true });
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
}
