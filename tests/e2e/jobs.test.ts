import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFaults } from './axe.ts';
import { launchChromium, overflow, sizes } from './chromium.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

let browser: Browser;
let shop: RunningShop;

beforeAll(async () => {
  browser = await launchChromium();
  shop = await startShop(['--seed', '5', '--speed', '2']);
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
});

/** Clean by axe-core at phone, desk and 320 pixels, no sideways scrolling; pictures to look at. */
async function look(page: Page, name: string): Promise<void> {
  for (const [size, viewport] of Object.entries({
    ...{ desk: sizes.desk, narrow: { width: 320, height: 640 }, phone: sizes.phone },
  })) {
    await page.setViewportSize(viewport);
    expect(await axeFaults(page)).toEqual([]);
    await expect.poll(() => overflow(page)).toBeLessThanOrEqual(0);
    await page.screenshot({ path: `tests/.out/jobs-${name}-${size}.png`, fullPage: true });
  }
}

const answer = (page: Page, group: string, which: 'Pass' | 'Fail') =>
  page.getByRole('group', { name: group }).getByRole('radio', { name: which, exact: true }).check();

test('a whole job on a phone: sheet, set-up, coupon, tests, vehicle, pages to print', async () => {
  const page = await browser.newPage({ viewport: sizes.phone, reducedMotion: 'reduce' });
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  await page.goto(new URL('#/jobs', shop.url).href);
  await page.getByLabel('Job number').fill('2611-17');
  await page.getByLabel('Vehicle').fill('grey van, left sill');
  await page.getByLabel('Your name').fill('Ida');
  await look(page, 'list');
  await page.getByRole('button', { name: 'Begin a job sheet' }).click();
  await page.getByRole('heading', { name: 'Job 2611-17: grey van, left sill' }).waitFor();
  await page.getByRole('link', { name: 'A new set-up' }).click();
  await page.getByLabel('Sensor at the outlet').selectOption('harbour-lane.bay-2');
  await page.getByLabel('First sheet: metal').fill('HSS');
  await page.getByLabel('First sheet: thickness', { exact: true }).fill('1.2');
  // What is missing is refused by its place, and nothing is begun.
  await page.getByRole('button', { name: 'Begin: the clock runs' }).click();
  await page.getByRole('alert').getByText('Not saved.').waitFor();
  await page.getByLabel('Second sheet: metal').fill('HSS');
  await page.getByLabel('Second sheet: thickness', { exact: true }).fill('1.5');
  await page.getByLabel('Its number or title').fill('Sill plate 7');
  await page.getByLabel('Least button left', { exact: false }).first().fill('6');
  await look(page, 'new-set-up');
  await page.getByRole('button', { name: 'Begin: the clock runs' }).click();
  await page.getByRole('heading', { name: 'No passed coupon' }).waitFor();
  await page.getByLabel('How the machine is set').fill('wire 5, volts 18.5');
  await page.getByRole('button', { name: 'Weld the coupon now' }).click();
  await page.locator('.arcs li').first().waitFor({ timeout: 90_000 });
  await look(page, 'welding');
  const heights = await page
    .locator('main button')
    .evaluateAll((buttons) => buttons.map((button) => button.getBoundingClientRect().height));
  expect(Math.min(...heights)).toBeGreaterThanOrEqual(56);
  await page.getByRole('button', { name: 'The coupon is welded' }).click();
  await page.getByRole('heading', { name: 'Testing the coupon' }).waitFor();
  for (const each of ['Undercut', 'Porosity', 'Burn-through', 'Size of the weld'])
    await answer(page, each, 'Pass');
  await page.getByRole('button', { name: 'Keep the visual test' }).click();
  await page.getByText('Entered by Ida').first().waitFor();
  await answer(page, 'The test as a whole', 'Pass');
  await page.getByLabel('A button was left').selectOption('yes');
  const button = page.getByLabel('Measured; the procedure says at least 6 mm', { exact: true });
  await button.fill('5.5');
  await page.getByRole('button', { name: 'Keep the destructive test' }).click();
  await page.getByText('5.5 mm measured, the procedure says 6 mm').waitFor();
  await look(page, 'testing');
  await button.fill('6.5');
  await page.getByRole('button', { name: 'Keep the destructive test' }).click();
  await page.getByText('As entered, the coupon passes.').waitFor();
  await page.getByRole('button', { name: 'Keep this result for good' }).click();
  await page.getByRole('heading', { name: 'Coupon passed: the vehicle' }).waitFor();
  await page.getByText('The set-up’s clock stands').waitFor();
  // While it burns already: how hot, beside the coupon.
  const burning = page.locator('.heat-now', { hasText: /on now: [▼▲ ]*\d+ W, / });
  await burning.waitFor({ timeout: 90_000 });
  await page.locator('.arcs li').first().waitFor({ timeout: 90_000 });
  await look(page, 'vehicle');
  await page.getByRole('link', { name: 'Job 2611-17' }).click();
  await page.getByText(/coupons tested/).waitFor();
  await look(page, 'sheet');
  await page.getByRole('link', { name: 'All welds, one a page' }).click();
  await page.locator('.weld-sheet').nth(1).waitFor();
  await look(page, 'welds');
  await page.emulateMedia({ media: 'print' });
  const count = await page.locator('.weld-sheet').count();
  const pdf = await page.pdf({ format: 'A4', path: 'tests/.out/jobs-welds.pdf' });
  const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
  expect(pages).toBe(count);
  expect(faults).toEqual([]);
  await page.close();
});
