import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFaults } from './axe.ts';
import { launchChromium, overflow, sizes } from './chromium.ts';
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

const get = async <T>(path: string) =>
  (await (await fetch(new URL(`/api/v1${path}`, shop.url))).json()) as T;
const put = (path: string, body: object) =>
  fetch(new URL(`/api/v1${path}`, shop.url), {
    ...{ method: 'PUT', headers: { 'content-type': 'application/json' } },
    body: JSON.stringify(body),
  });
const at = (hash: string) => new URL(hash, shop.url).href;

/** At phone, desk and 400 %: clean by axe-core, and nothing sticks out. */
async function clean(page: Page, name: string): Promise<void> {
  for (const [size, viewport] of Object.entries({
    ...sizes,
    narrow: { width: 320, height: 256 },
  })) {
    await page.setViewportSize(viewport);
    expect(await axeFaults(page)).toEqual([]);
    await expect.poll(() => overflow(page)).toBeLessThanOrEqual(0);
    await page.screenshot({ path: `tests/.out/${name}-${size}.png`, fullPage: true });
  }
  await page.setViewportSize(sizes.desk);
}

test('a feeder is refused by field, saved, judged, kept in versions, retired', async () => {
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  await page.goto(at('#/edit-feeder/new'));
  await page.getByLabel('Feeder', { exact: true }).fill('Panel by the yard');
  await page.getByLabel('Nominal volts').fill('240');
  await page.getByLabel('Breaker, A').fill('-60');
  await page.getByLabel('Conductor').selectOption({ label: '6 AWG' });
  await page.getByLabel('Length, one way').fill('80');
  await page.getByLabel(/^Bay 1/).check();
  await page.getByLabel(/^Bay 2/).check();
  await page.getByRole('button', { name: 'Save' }).click();
  await page.locator('.field', { hasText: 'Breaker' }).locator('.field-fault').waitFor();
  await page.getByLabel('Breaker, A').fill('60');
  await page.getByRole('button', { name: 'Save' }).click();
  const line = page.locator('.stock li', { hasText: 'Panel by the yard' });
  await line.locator('svg.mark').waitFor();
  const [kept] = await get<{ id: number; feeder: object }[]>('/feeders');
  expect(kept?.feeder).toMatchObject({
    volts: 240,
    breakerAmps: 60,
    conductor: { awg: 6, feet: 80 },
    circuits: [expect.any(Number), expect.any(Number)],
  });

  await line.getByRole('link').click();
  await page.getByText(/the feeder's 6 AWG copper may carry/i).waitFor();
  await clean(page, 'feeder');
  await page.getByLabel('Conductor').selectOption({ label: '250 kcmil' });
  await page.getByLabel(/^Bay 2/).uncheck();
  await page.getByRole('button', { name: 'Save' }).click();
  await line.getByRole('link').click();
  await page.getByText(/250 kcmil copper may carry/i).waitFor();
  // Somebody else saves while this form is open: both sides are shown, by names.
  const theirs = { ...kept!.feeder, conductor: { kcmil: 250, feet: 80 }, volts: 230 };
  await put(`/feeders/${kept!.id}?version=2`, theirs);
  await page.getByLabel('Machines burning at once').fill('1');
  await page.getByRole('button', { name: 'Save' }).click();
  const row = page.locator('.meanwhile tr', { hasText: 'Circuits on it' });
  await row.getByText(/^Bay 1.*; Bay 2/).waitFor();
  await page.getByRole('button', { name: 'Save mine over it' }).click();
  await line.getByRole('link').click();
  await page.getByText('Versions', { exact: true }).click();
  await page.locator('.versions li').nth(3).waitFor();
  await page
    .getByText(/conductor size 6 AWG \(250 kcmil\)/)
    .first()
    .waitFor();
  await page.getByRole('button', { name: /^Bring back version 1/ }).click();
  await page.getByText('Version 1 is back, as version 5.').waitFor();
  await page.getByText(/the feeder's 6 AWG copper may carry/i).waitFor();
  await page.getByRole('button', { name: 'Retire' }).click();
  await page.getByText('This one is retired.').waitFor();
  expect(await get('/feeders')).toEqual([]);
  expect(await page.getByText(/may carry/i).count()).toBe(0);
  await page.getByRole('link', { name: '← Plates and circuits' }).click();
  await page.locator('section', { hasText: 'Retired' }).getByText('Panel by the yard').waitFor();
  await page.close();
});

test('how a circuit is run is asked for, refused by field, kept and shown again', async () => {
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  await page.goto(at('#/edit-circuit/new'));
  await page.getByLabel('Circuit', { exact: true }).fill('Hot loft');
  await page.getByLabel('Nominal volts').fill('240');
  await page.getByLabel('Breaker type').selectOption('C');
  await page.getByLabel('Conductor').first().selectOption({ label: '8 AWG' });
  await page.getByLabel('Length, one way').first().fill('60');
  await page.getByText('How the wire is run').click();
  await page.getByLabel('Insulation rating').selectOption('90');
  await page.getByLabel('Terminals marked').selectOption('75');
  await page.getByLabel('Circuits in the same raceway').fill('2');
  await page.getByLabel('Method').selectOption('C');
  await page.getByLabel('Four-wire').selectOption('yes');
  await page.getByRole('button', { name: 'Another cord' }).click();
  const cord = page.getByRole('group', { name: /^Cords/ });
  await cord.getByLabel('Conductor').selectOption({ label: '10 AWG' });
  await cord.getByLabel('Length, one way').fill('25');
  await cord.getByLabel('Air around it').fill('45');
  await page.getByRole('button', { name: 'Save' }).click();
  const method = page.locator('.field', { hasText: 'Method' });
  await method.locator('.field-fault', { hasText: 'metric wire alone' }).waitFor();
  await method.locator('select').selectOption('');
  await clean(page, 'laid');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.locator('.stock').first().waitFor();
  const circuits = await get<{ id: number; circuit: { name: string } }[]>('/circuits');
  const kept = circuits.find(({ circuit }) => circuit.name === 'Hot loft')!;
  expect(kept.circuit).toMatchObject({
    breakerType: 'C',
    neutralLoaded: true,
    branch: { awg: 8, feet: 60, insulationCelsius: 90, terminalsCelsius: 75, groupedCircuits: 2 },
    cords: [{ awg: 10, feet: 25, ambientCelsius: 45 }],
  });

  await page.goto(at(`#/edit-circuit/${kept.id}`));
  await expect.poll(() => page.getByLabel('Insulation rating').inputValue()).toBe('90');
  expect(await page.getByLabel('Circuits in the same raceway').inputValue()).toBe('2');
  await page.close();
});

test('what a machine is set up for, and its guns, are kept and shown again', async () => {
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  const plates = () => get<{ id: number; plate: { guns?: object[] } }[]>('/plates');
  const [first] = await plates();
  await page.goto(at(`#/edit-plate/${first!.id}`));
  const whole = page.getByRole('group', { name: 'Set up for' }).first();
  await whole.getByLabel('MIG on steel').check();
  await page.getByRole('button', { name: 'Another gun' }).click();
  await page.getByLabel('Gun', { exact: true }).fill('spool gun');
  const guns = page.getByRole('group', { name: /^Guns/ });
  await guns.getByLabel('MIG on aluminium').check();
  await guns.getByLabel('Wire diameters, inches').fill('0.047 0.062');
  await clean(page, 'guns');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.locator('.stock').first().waitFor();
  const kept = (await plates()).find(({ id }) => id === first!.id)!.plate;
  expect(kept).toMatchObject({
    processes: expect.arrayContaining(['mig-steel']),
    guns: [{ name: 'spool gun', processes: ['mig-aluminium'], wireInches: [0.047, 0.062] }],
  });
  await page.goto(at(`#/edit-plate/${first!.id}`));
  await expect.poll(() => guns.getByLabel('MIG on aluminium').isChecked()).toBe(true);
  // On a metric device the same wire by its own names; what is not touched stays as it was.
  await page.evaluate(() => localStorage.setItem('stiffline.units', 'metric'));
  await page.reload();
  const wires = guns.getByLabel('Wire diameters, mm');
  expect(await wires.inputValue()).toBe('1.2 1.6');
  await wires.fill('0.8 1.2 9');
  await page.getByRole('button', { name: 'Save' }).click();
  await guns.getByText('each up to 6.35 mm').waitFor();
  await wires.fill('0.8 1.2');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.locator('.stock').first().waitFor();
  const metric = (await plates()).find(({ id }) => id === first!.id)!.plate;
  expect(metric.guns).toMatchObject([{ wireInches: [0.8 / 25.4, 0.047] }]);
  await page.goto(at(`#/edit-plate/${first!.id}`));
  await page.getByText('Versions', { exact: true }).click();
  await page.getByText('gun 1 wire 1.2 1.6 mm (0.8 1.2 mm)').waitFor();
  await page.close();
});
