import { networkInterfaces } from 'node:os';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFaults } from './axe.ts';
import { launchChromium, overflow, sizes } from './chromium.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

/** Not loopback, so to the server it is another device. Where there is none, nothing is shown. */
const abroad = Object.values(networkInterfaces())
  .flatMap((addresses) => addresses ?? [])
  .find(({ internal, family }) => !internal && family === 'IPv4')?.address;

let browser: Browser;
let shop: RunningShop;

beforeAll(async () => {
  browser = await launchChromium();
  shop = await startShop(['--seed', '3', '--host', '0.0.0.0']);
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
});

const here = (hash: string) => new URL(hash, shop.url).href;
const there = (hash: string) => here(hash).replace('localhost', abroad!);
/** Clean by axe-core on a phone, in the dark at a desk, at 320 pixels; a picture of each. */
async function look(page: Page, name: string): Promise<void> {
  for (const [size, viewport] of Object.entries({
    ...sizes,
    narrow: { width: 320, height: 640 },
  })) {
    await page.emulateMedia({ colorScheme: size === 'desk' ? 'dark' : 'light' });
    await page.setViewportSize(viewport);
    expect(await axeFaults(page)).toEqual([]);
    await expect.poll(() => overflow(page)).toBeLessThanOrEqual(0);
    await page.screenshot({ path: `tests/.out/${name}-${size}.png` });
  }
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize(sizes.phone);
}

async function addPerson(page: Page, name: string, role: RegExp, pin: string): Promise<void> {
  const form = page.locator('section form.editor');
  await form.getByLabel('Name').fill(name);
  await form.getByRole('radio', { name: role }).check();
  await form.getByLabel('PIN').fill(pin);
  await form.getByRole('button', { name: 'Add a person' }).click();
  await page.getByText(`${name} is saved.`).waitFor();
}

/** In the open dialog: the name's tile, then key by key, as a glove does. */
async function tapIn(page: Page, name: string, pin: string): Promise<void> {
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('button', { name: new RegExp(`^${name}`) }).click();
  for (const digit of pin) await dialog.getByRole('button', { name: digit, exact: true }).click();
  await dialog.getByRole('button', { name: 'Enter' }).click();
}

async function letIn(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await page.goto(there('#/'));
  const code = /access code (\d{4}-\d{4})/.exec(shop.talk())![1]!;
  await page.getByLabel('Access code').fill(code);
  await page.getByRole('button', { name: 'Let me in' }).click();
  await page.locator('article.card').first().waitFor();
  return page;
}

test.skipIf(!abroad)(
  'people are named, sign in with gloves, and do what their role lets',
  async () => {
    const phone = await browser.newContext({ viewport: sizes.phone, reducedMotion: 'reduce' });
    const away = await letIn(phone);
    await away.getByText('Nobody is named here yet').waitFor();

    const own = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
    own.setDefaultTimeout(20_000);
    await own.goto(here('#/people'));
    await own.getByText('The first person must be a lead').waitFor();
    await look(own, 'people-first');
    await addPerson(own, 'Lea', /^Lead/, '1111');
    await addPerson(own, 'Wim', /^Watch/, '2222');
    await addPerson(own, 'Ida', /^Weld/, '3333');
    await own.locator('summary', { hasText: 'Ida' }).click();
    await look(own, 'people');

    // Watch looks, and may not acknowledge; what was to be done goes on when one comes who may.
    await away.reload();
    await away.goto(there('#/flags'));
    await away.locator('.flag-list li').first().waitFor({ timeout: 60_000 });
    await away.getByRole('button', { name: 'Sign in', exact: true }).click();
    await tapIn(away, 'Wim', '2222');
    await away.locator('.who', { hasText: 'Wim, watch' }).waitFor();
    const href = await away.locator('.flag-list li a').first().getAttribute('href');
    const flag = away.locator('.flag-list li', { has: away.locator(`a[href="${href}"]`) });
    await flag.getByRole('button').click();
    const dialog = away.getByRole('dialog');
    await dialog.getByText('Wim may not do this').waitFor();
    await look(away, 'sign-in-tiles');
    const heights = await dialog
      .getByRole('button')
      .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height));
    expect(Math.min(...heights)).toBeGreaterThanOrEqual(56);
    await dialog.getByRole('button', { name: /^Ida/ }).click();
    await look(away, 'sign-in-keypad');
    await dialog.getByRole('button', { name: 'Somebody else' }).click();
    await tapIn(away, 'Ida', '3334');
    await dialog.getByText('That is not the PIN.').waitFor();
    // A real keyboard does it too.
    await away.keyboard.type('3333');
    await dialog.getByRole('button', { name: 'Enter' }).focus();
    await away.keyboard.press('Enter');
    await flag.waitFor({ state: 'detached' });
    await away.locator('.who', { hasText: 'Ida, weld' }).waitFor();
    await phone.close();
    await own.close();
  },
);

test.skipIf(!abroad)(
  'two edit one plate: both see, nothing is lost, all of it is listed',
  async () => {
    const phone = await browser.newContext({ viewport: sizes.phone, reducedMotion: 'reduce' });
    const away = await letIn(phone);
    const own = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
    own.setDefaultTimeout(20_000);
    await away.goto(there('#/edit-plate/1'));
    await own.goto(here('#/edit-plate/1'));
    const amps = own.getByLabel('I₁max, A').first();
    await amps.waitFor();
    const before = await amps.inputValue();
    await away.getByLabel('I₁max, A').first().fill('31');
    await away.getByRole('button', { name: 'Save' }).click();
    await tapIn(away, 'Lea', '1111');
    await away.locator('.stock').first().waitFor();

    await amps.fill('32');
    await own.getByRole('button', { name: 'Save' }).click();
    await own.getByText('Lea saved version 2').waitFor();
    const row = own.locator('.meanwhile tbody tr');
    expect(await row.locator('td').allTextContents()).toEqual(['32', '31']);
    expect(await amps.inputValue()).toBe('32');
    await look(own, 'meanwhile');
    await own.getByRole('button', { name: 'Save mine over it' }).click();
    await own.locator('.stock').first().waitFor();

    await own.goto(here('#/edit-plate/1'));
    await own.getByText('Versions', { exact: true }).click();
    await own.locator('.versions li').nth(2).waitFor();
    await look(own, 'versions');
    await own.getByRole('button', { name: /^Bring back version 1/ }).click();
    await own.getByText('Version 1 is back, as version 4.').waitFor();
    expect(await amps.inputValue()).toBe(before);
    await own.getByRole('button', { name: 'Retire' }).click();
    await own.getByRole('alert').getByText('it hangs on the sensor').waitFor();

    await own.goto(here('#/audit'));
    await own.locator('.changes li').nth(5).waitFor();
    const all = (await own.locator('.changes').textContent())!;
    for (const words of [
      'added Lea, who may lead',
      'Ida acknowledged the underpowered arc',
      '→ 31',
    ])
      expect(all).toContain(words);
    await own.locator('.changes summary').first().click();
    await look(own, 'audit');
    await own.getByLabel('By whom').selectOption('Lea');
    await expect
      .poll(() => own.locator('.changes').textContent())
      .not.toContain('Ida acknowledged');
    expect(await own.locator('.changes').textContent()).toContain(abroad);
    await phone.close();
    await own.close();
  },
);
