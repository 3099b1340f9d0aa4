import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { SqliteStore } from '../../dashboard/server/store/sqlite-store.ts';
import { about, batchOf } from '../server/given.ts';
import { axeFaults } from './axe.ts';
import { launchChromium, overflow, sizes } from './chromium.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

let browser: Browser;
let shop: RunningShop;
const old = 'harbour-lane.old-bay';
const hourUs = 3_600e6;

/** Eight hours of seconds with a hole, a terminal that loosens over months, a compressor. */
function seed(data: string): void {
  const store = new SqliteStore(join(data, 'stiffline.sqlite'));
  store.saveAbout(old, 'harbour-lane', { ...about(), name: 'old-bay' });
  const nowMs = Date.now();
  const seconds = Array.from({ length: 8 * 3_600 }, (_, at) => {
    const burns = at % 90 < 20;
    const dip = at === 14_000 ? 30 : 0;
    return {
      ...{ sensor: old, timeMs: nowMs - (8 * 3_600 - at) * 1_000, hertz: 60 },
      voltsMin: [(burns ? 112 : 119) - dip],
      voltsMax: [121],
      ...{ ampsMin: [0.3], ampsMax: [burns ? 18 : 0.4] },
    };
  }).filter((_, at) => at < 10_000 || at > 12_000);
  const supplies = Array.from({ length: 40 }, (_, at) => {
    const ohmsR = 0.42 + (at > 15 ? (at - 15) * 0.012 : 0) + 0.01 * Math.sin(7 * at);
    const half = 0.03 + 0.01 * Math.cos(3 * at);
    return {
      ...{ sensor: old, boot: 1, sample: at, atUs: (nowMs - (40 - at) * 2 * 86_400_000) * 1_000 },
      ...{ wiring: 'a', pair: 1 },
      supply: {
        ...{ openVolts: 121, ohmsR, ohmsX: 0.08, steps: 20 },
        ohmsR95: [ohmsR - half, ohmsR + half] as [number, number],
        ohmsX95: [0.05, 0.11] as [number, number],
      },
    };
  });
  const otherLoads = [1, 2.5, 6].map((hours, at) => ({
    ...{ sensor: old, boot: 1, sample: at, atUs: nowMs * 1_000 - hours * hourUs },
    event: {
      ...{ atS: at, channel: 1, volts: -4.2, halfWidthVolts: 0.3, amps: 9.6, halfWidthAmps: 0.9 },
      duringArc: at === 1,
    },
  }));
  store.commit(batchOf({ seconds, supplies, otherLoads }));
  store.close();
}

beforeAll(async () => {
  browser = await launchChromium();
  const data = mkdtempSync(join(tmpdir(), 'stiffline-e2e-'));
  seed(data);
  shop = await startShop(['--seed', '3'], data);
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
});

async function look(page: Page, name: string): Promise<void> {
  for (const [size, viewport] of Object.entries(sizes)) {
    const colorScheme = size === 'phone' ? 'dark' : 'light';
    await page.setViewportSize(viewport);
    await page.emulateMedia({ colorScheme });
    await expect.poll(() => overflow(page)).toBeLessThanOrEqual(0);
    expect(await axeFaults(page)).toEqual([]);
    await page.screenshot({ path: `tests/.out/${name}-${size}.png`, fullPage: true });
  }
}

type Seen = { id: number; durationS: number };

/** The newest arc of more than so many seconds, of the whole shop or of one sensor. */
async function anArc(sensor?: string, leastS = 2): Promise<Seen> {
  const which = sensor === undefined ? '' : `&sensor=${sensor}`;
  for (;;) {
    const answer = await fetch(new URL(`/api/v1/arcs?limit=50${which}`, shop.url));
    const { arcs } = (await answer.json()) as { arcs: Seen[] };
    const long = arcs.find(({ durationS }) => durationS > leastS);
    if (long) return long;
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
}

test('a circuit shows hours, other loads and a supply that has risen', async () => {
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  await page.goto(new URL(`#/circuit/${old}`, shop.url).href);
  await page.getByText('The resistance has risen').waitFor();
  expect(await page.locator('.trend.risen').textContent()).toMatch(/licensed electrician/);
  await page.getByRole('radio', { name: '8 h' }).check({ force: true });
  await page.getByText('each 48 s; the 3 marks are other loads').first().waitFor();
  await page.getByText('3 in this stretch').click();
  expect(await page.locator('.figures-of tbody tr').count()).toBe(3);
  await look(page, 'circuit-history');
  const swiped = page.locator('.swiped');
  await swiped.focus();
  await page.keyboard.press('ArrowLeft');
  await page.getByRole('button', { name: 'Later' }).and(page.locator(':enabled')).waitFor();
  await page.keyboard.press('+');
  await page.getByText('each 6 s').first().waitFor();
  await page.keyboard.press('Home');
  await page.getByRole('button', { name: 'Now', pressed: true }).waitFor();
  await page.close();
});

test('history moves under a finger', async () => {
  const context = await browser.newContext({ viewport: sizes.phone, hasTouch: true });
  const page = await context.newPage();
  await page.goto(new URL(`#/circuit/${old}`, shop.url).href);
  const later = page.getByRole('button', { name: 'Later' });
  await page.locator('.swiped canvas').first().waitFor();
  expect(await later.isDisabled()).toBe(true);
  await page.locator('.swiped').evaluate((element) => {
    const at = (type: string, clientX: number) =>
      element.dispatchEvent(
        new PointerEvent(type, { pointerType: 'touch', clientX, bubbles: true, pointerId: 5 }),
      );
    at('pointerdown', 60);
    at('pointerup', 300);
  });
  await expect.poll(() => later.isEnabled()).toBe(true);
  await context.close();
});

/** Seconds that the picture shows at a place of the window, as its legend reads them there. */
async function readAt(page: Page, x: number, y: number): Promise<number> {
  await page.mouse.move(x, y + 3);
  await page.mouse.move(x, y);
  const text = await page.locator('.chart .u-legend .u-value').first().textContent();
  return Number(text?.replace('−', '-'));
}

/** Fingers on the glass, each from one place to another in a dozen small steps. */
async function drag(page: Page, fingers: { from: [number, number]; to: [number, number] }[]) {
  const devtools = await page.context().newCDPSession(page);
  const steps = 12;
  const at = (part: number) =>
    fingers.map(({ from, to }, id) => ({
      ...{ id, x: from[0] + part * (to[0] - from[0]), y: from[1] + part * (to[1] - from[1]) },
    }));
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', touchPoints: object[]) =>
    devtools.send('Input.dispatchTouchEvent', { type, touchPoints: touchPoints as never });
  await send('touchStart', at(0));
  for (let step = 1; step <= steps; step++) await send('touchMove', at(step / steps));
  await send('touchEnd', []);
  await devtools.detach();
}

test('two fingers look closer, what lay under them stays there; one moves it along', async () => {
  const { id } = await anArc();
  const touching = { viewport: sizes.phone, hasTouch: true, isMobile: true };
  const context = await browser.newContext({ ...touching, reducedMotion: 'reduce' });
  const page = await context.newPage();
  await page.goto(new URL(`#/arc/${id}`, shop.url).href);
  await page.getByText('lowest and highest sample of each').first().waitFor();
  const over = page.locator('.chart .u-over').first();
  await over.evaluate((element) => element.scrollIntoView({ block: 'center' }));
  const { x, y, width, height } = (await over.boundingBox())!;
  const middle = y + height / 2;
  const along = (part: number): [number, number] => [x + part * width, middle];
  const at = (part: number) => readAt(page, ...along(part));
  const span = async () => (await at(0.9)) - (await at(0.1));
  const [left, right] = [await at(0.4), await at(0.6)];
  const whole = await span();
  await drag(page, [
    { from: along(0.4), to: along(0.1) },
    { from: along(0.6), to: along(0.7) },
  ]);
  // A row lies each 8 ms, and a finger's place is good for a pixel.
  const good = 0.02 + (3 * whole) / width;
  await expect.poll(span).toBeLessThan(0.4 * whole);
  expect(Math.abs((await at(0.1)) - left)).toBeLessThan(good);
  expect(Math.abs((await at(0.7)) - right)).toBeLessThan(good);
  expect(await page.evaluate(() => visualViewport?.scale)).toBe(1);
  await drag(page, [{ from: along(0.7), to: along(0.3) }]);
  await expect.poll(async () => Math.abs((await at(0.3)) - right)).toBeLessThan(good);
  const scrolled = await page.evaluate(() => scrollY);
  await drag(page, [{ from: along(0.5), to: [along(0.5)[0], middle - 200] }]);
  await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(scrolled + 100);
  await context.close();
});

test('a wheel looks closer with Ctrl alone; two clicks show all again', async () => {
  const { id } = await anArc();
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  await page.goto(new URL(`#/arc/${id}`, shop.url).href);
  await page.getByText('lowest and highest sample of each').first().waitFor();
  const over = page.locator('.chart .u-over').first();
  await over.evaluate((element) => element.scrollIntoView({ block: 'center' }));
  const { x, y, width, height } = (await over.boundingBox())!;
  const place = (part: number): [number, number] => [x + part * width, y + height / 2];
  const [edge, there] = [await readAt(page, ...place(0)), await readAt(page, ...place(0.75))];
  await page.keyboard.down('Control');
  for (let notch = 0; notch < 3; notch++) await page.mouse.wheel(0, -100);
  await page.keyboard.up('Control');
  await expect.poll(() => readAt(page, ...place(0))).toBeGreaterThan(edge + 1);
  expect(Math.abs((await readAt(page, ...place(0.75))) - there)).toBeLessThan(0.05);
  await page.mouse.dblclick(...place(0.5));
  await expect.poll(() => readAt(page, ...place(0))).toBeCloseTo(edge, 2);
  const scrolled = await page.evaluate(() => scrollY);
  await page.mouse.wheel(0, 300);
  await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(scrolled);
  await page.close();
});

test('an arc’s waveform is seen whole and to the single sample; its spectrum', async () => {
  const { id } = await anArc();
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  await page.goto(new URL(`#/arc/${id}`, shop.url).href);
  await page.getByText('lowest and highest sample of each').first().waitFor();
  await page.locator('.spectrum .bars').first().waitFor();
  expect(await page.locator('.spectrum svg.scatter').count()).toBeGreaterThanOrEqual(2);
  await look(page, 'arc-spectrum');
  await page.setViewportSize(sizes.desk);
  const frame = page.locator('.chart .frame').first();
  await frame.focus();
  for (let press = 0; press < 8; press++) await page.keyboard.press('+');
  await page.getByText('10240 samples a second, each of them').first().waitFor();
  await page.getByRole('button', { name: 'At the middle of the picture above' }).click();
  await page.getByText('One window').waitFor();
  await page.screenshot({ path: 'tests/.out/arc-close-desk.png' });
  await page.close();
});

test('two arcs, of one pair and of three: told apart by word and shape, all of both', async () => {
  const [one, three] = [
    await anArc('harbour-lane.bay-1-machine'),
    await anArc('harbour-lane.bench'),
  ];
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  await page.goto(new URL(`#/arc/${one.id}/beside/${three.id}`, shop.url).href);
  for (const which of ['First', 'Second'])
    for (const what of ['Voltage', 'Current'])
      await page.getByText(`${which} arc: ${what}: lowest and highest`).first().waitFor();
  const heads = await page.locator('.figures thead th').allTextContents();
  expect(heads.slice(1)).toEqual([
    'First arc: Pair 1',
    ...[1, 2, 3].map((pair) => `Second arc: Pair ${pair}`),
    ...['1 and 2', '2 and 3', '3 and 1'].map((lines) => `Second arc: Between ${lines}`),
  ]);
  const spectra = page.locator('.spectrum figure');
  await expect.poll(() => spectra.count()).toBe(6);
  const legend = (chart: number) => spectra.nth(chart).locator('p.source').allTextContents();
  expect(await legend(0)).toEqual([
    expect.stringMatching(/^\s*first arc: /),
    expect.stringMatching(/^\s*second arc: /),
  ]);
  expect(await legend(2)).toEqual([expect.stringMatching(/^\s*second arc: /)]);
  expect(await spectra.nth(0).locator('.scatter .bars.second').count()).toBe(1);
  expect(await spectra.nth(0).locator('thead th').count()).toBe(7);
  expect(await spectra.nth(0).locator('svg[role=img]').getAttribute('aria-label')).toMatch(
    /First arc: .*Second arc: /,
  );
  await look(page, 'two-arcs');
  // Charts of both stand at one height.
  await page.setViewportSize(sizes.desk);
  const [left, right] = await page
    .locator('.beside .frame')
    .evaluateAll((all) => all.map((frame) => frame.getBoundingClientRect().top));
  const middle = await page.locator('.beside > div').nth(1).locator('.frame').first().boundingBox();
  expect(middle!.y).toBeCloseTo(left!, 0);
  expect(right).toBeGreaterThan(left!);
  await page.close();
});

test('past the end of the shorter of two arcs the longer has its spectrum', async () => {
  const short = await anArc('harbour-lane.bay-1-machine');
  const long = await anArc('harbour-lane.bay-2', short.durationS + 2.5);
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  await page.goto(new URL(`#/arc/${short.id}/beside/${long.id}`, shop.url).href);
  await page.locator('.spectrum .bars.second').first().waitFor();
  await page.locator('.beside .frame').first().focus();
  for (const key of ['+', '+', '+']) await page.keyboard.press(key);
  for (let press = 0; press < 20; press++) await page.keyboard.press('ArrowRight');
  for (const key of ['ArrowLeft', 'ArrowLeft']) await page.keyboard.press(key);
  await page.getByRole('button', { name: 'At the middle of the picture above' }).click();
  await page.getByText('First arc: no whole window of 10 or 12 cycles lies there').waitFor();
  await page.getByText('Second arc: One window').waitFor();
  expect(await page.locator('.spectrum .scatter .bars:not(.second)').count()).toBe(0);
  await page.close();
});

test('files are taken along by their buttons', async () => {
  const { id } = await anArc();
  const page = await browser.newPage({ viewport: sizes.desk });
  await page.goto(new URL(`#/arc/${id}`, shop.url).href);
  const save = async (name: string) => {
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name }).click(),
    ]);
    return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'latin1') };
  };
  const recording = await save('Recording, COMTRADE');
  expect(recording.name).toMatch(/^stiffline-harbour-lane\.[\w-]+-\d{8}T\d{6}Z-arc-\d+\.cff$/);
  expect(recording.text).toMatch(/^--- file type: CFG ---/);
  expect((await save('Recording, CSV')).text).toMatch(/\nt_s,v1_V,i1_A/);
  expect((await save('Half cycles, CSV')).text).toMatch(/^t_s,hertz,v1_V,i1_A,p1_W/);
  await page.close();
});
