import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { axeFaults } from './axe.ts';
import { launchChromium, overflow, sizes } from './chromium.ts';
import { followCheck } from './follow-check.ts';
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

/** Clean by axe-core, no sideways scrolling, and a picture to look at. */
async function look(page: Page, name: string): Promise<void> {
  expect(await axeFaults(page)).toEqual([]);
  await expect.poll(() => overflow(page)).toBeLessThanOrEqual(0);
  await page.screenshot({ path: `tests/.out/${name}.png`, fullPage: true });
}

async function begin(page: Page, sensor: string): Promise<void> {
  await page.goto(new URL('#/checks', shop.url).href);
  await page.getByLabel(/^Sensor/).selectOption(`harbour-lane.${sensor}`);
  await page.getByRole('textbox', { name: 'Where the vehicle stands' }).fill('Left lift');
  await page.getByRole('textbox', { name: 'Your name' }).fill('Ida');
}

describe.each(Object.entries(sizes))('on a %s', (name, viewport) => {
  test('an outlet is checked step by step, to its judgement', async () => {
    const page = await browser.newPage({ viewport, reducedMotion: 'reduce' });
    await begin(page, 'bay-2');
    const cord = page.locator('.cord-fields').first();
    await cord.getByLabel('Wire size').selectOption({ label: '12 AWG' });
    const tops = await cord
      .locator('input, select')
      .evaluateAll((fields) => fields.map((field) => field.getBoundingClientRect().top));
    expect(tops).toHaveLength(3);
    expect(new Set(tops).size).toBe(1);
    await look(page, `check-begin-${name}`);
    await cord.getByLabel('Wire size').selectOption({ label: 'no cord' });
    await page.getByRole('button', { name: 'Begin the check' }).click();
    await page.locator('.do-now').waitFor();
    await look(page, `check-step-${name}`);
    const heights = await page
      .locator('.choices-now button')
      .evaluateAll((buttons) => buttons.map((button) => button.getBoundingClientRect().height));
    expect(Math.min(...heights)).toBeGreaterThanOrEqual(56);
    await page.getByRole('heading', { name: 'Bead on a coupon' }).waitFor({ timeout: 60_000 });
    const seen = page.locator('.wants li.in');
    await seen.first().waitFor({ timeout: 60_000 });
    // Results to read: a word and a shape, and no box that could be pressed.
    await expect.poll(() => seen.first().locator('strong').textContent()).toBe('Seen');
    expect(await page.locator('.wants rect').count()).toBe(0);
    await page.screenshot({ path: `tests/.out/check-bead-${name}.png`, fullPage: true });
    await followCheck(page);
    expect(await page.locator('section.verdict h1').textContent()).toBe('Adequate');
    await look(page, `check-judged-${name}`);
    await page.close();
  });
});

test('a weak outlet is found weak; a shorter cord is tried on the slider and does it', async () => {
  const page = await browser.newPage({ viewport: sizes.phone, reducedMotion: 'reduce' });
  await begin(page, 'bay-1-machine');
  await page.getByRole('button', { name: 'Begin the check' }).click();
  await followCheck(page);
  expect(await page.locator('section.verdict h1').textContent()).toBe('Underpowered');
  await page.locator('.remedies li').first().waitFor();
  await look(page, 'check-weak-phone');
  await page.getByRole('link', { name: 'Try other cords' }).click();
  const outcome = page.locator('.outcome-verdict strong');
  await page.locator('.outcome').getByText('With 75 ft of 16 AWG:').waitFor();
  expect(await outcome.textContent()).toBe('Underpowered');
  // By keyboard alone: the shortest cord there is, and the thickest.
  await page.getByLabel('Length').press('Home');
  await page.getByLabel('Length').press('ArrowRight');
  await page.getByLabel('Wire size').press('End');
  await page.locator('.outcome').getByText('With 5 ft of 2 AWG:').waitFor();
  const volts = async () =>
    Number(
      /([\d.]+) V at full load/.exec((await page.locator('.outcome').textContent()) ?? '')?.[1],
    );
  const short = await volts();
  await look(page, 'remedy-phone');
  await page.getByLabel('Length').press('End');
  await page.locator('.outcome').getByText('With 200 ft of 2 AWG:').waitFor();
  expect(await volts()).toBeLessThan(short);
  await page.setViewportSize(sizes.desk);
  await look(page, 'remedy-desk');
  await page.close();
});

test('a plan is worked out on the shop’s own circuits, and refused by path', async () => {
  const page = await browser.newPage({ viewport: sizes.phone, reducedMotion: 'reduce' });
  await page.goto(new URL('#/plan', shop.url).href);
  await page.getByLabel('Gannet 220 Pulse').waitFor();
  await look(page, 'plan-begin-phone');
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.locator('.matrix tbody').first().waitFor();
  expect(await page.locator('.matrix tbody').count()).toBe(4);
  expect(await page.locator('.matrix').first().textContent()).toContain('measured');
  expect(await page.locator('.overview tbody td').count()).toBe(16);
  await look(page, 'plan-phone');
  await page.setViewportSize(sizes.desk);
  await look(page, 'plan-desk');
  await page.getByText('Paste needs as JSON').click();
  await page.getByLabel('A list of needs').fill('[{"name":"Sill","process":"solder"}]');
  await page.getByRole('button', { name: 'Work it out' }).click();
  await page.getByRole('alert').getByText('needs[0].process').waitFor();
  await page.close();
});

const many = <T>(count: number, each: (at: number) => T): string =>
  JSON.stringify(Array.from({ length: count }, (_, at) => each(at)));

/** Twelve machines on two dozen circuits, as the lists are pasted. */
const wholeShop = {
  machines: many(12, (at) => ({
    ...{ name: `Machine ${at + 1}`, phases: 1, owned: true, processes: ['mig-steel'] },
    supply: [{ U1: 240, I1max: 16 + at }],
  })),
  circuits: many(24, (at) => ({
    ...{ name: `Circuit ${at + 1}`, phases: 1, hertz: 60, volts: at % 3 === 0 ? 120 : 240 },
    branch: { awg: 10, feet: 20 + 10 * at },
  })),
};

test('a plan of a whole shop: heads stay, keys go through it, it prints on few pages', async () => {
  const page = await browser.newPage({ viewport: sizes.phone, reducedMotion: 'reduce' });
  await page.goto(new URL('#/plan', shop.url).href);
  for (const [name, json] of Object.entries(wholeShop)) {
    await page.getByText(`Paste ${name} as JSON`).click();
    await page.getByLabel(`A list of ${name}`).fill(json);
  }
  await page.getByRole('button', { name: 'Work it out' }).click();
  const overview = page.locator('.overview');
  await overview.locator('tbody tr').nth(23).waitFor();
  expect(await overview.locator('tbody td').count()).toBe(12 * 24);
  expect(await overview.locator('tbody').textContent()).toMatch(/Adequate.*Wrong voltage/);
  const corners = () =>
    overview.evaluate((box) => {
      const [head, row] = ['thead th:last-child', 'tbody th'].map((place) =>
        box.querySelector(place)!.getBoundingClientRect(),
      );
      const { top, left } = box.getBoundingClientRect();
      return [Math.round(head!.top - top), Math.round(row!.left - left), box.scrollTop];
    });
  const [top, left] = await corners();
  await overview.focus();
  await page.keyboard.press('PageDown');
  await page.keyboard.press('ArrowRight');
  await expect.poll(async () => (await corners())[2]).toBeGreaterThan(100);
  expect((await corners()).slice(0, 2)).toEqual([top, left]);
  await look(page, 'plan-whole-phone');
  const paper = await page.pdf({ format: 'A4', preferCSSPageSize: true });
  expect(paper.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length).toBeLessThanOrEqual(4);
  await overview.getByRole('button', { name: 'Machine 12' }).press('Enter');
  await page.locator('details[open]', { hasText: 'Machine 12' }).locator('.matrix').waitFor();
  await page.setViewportSize(sizes.desk);
  await look(page, 'plan-whole-desk');
  await page.close();
});
