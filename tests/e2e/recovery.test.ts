import { setTimeout as sleep } from 'node:timers/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, type ExpectStatic, test } from 'vitest';
import type { ArcPage, Sensor } from '../../shared/protocol/http.ts';
import { launchChromium, sizes } from './chromium.ts';
import { Wire } from './slow-wire.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';

let browser: Browser;
/** One that is left alone, one that is killed. */
let shop: RunningShop;
let mortal: RunningShop;
const sensor = 'harbour-lane.bay-1-machine';

beforeAll(async () => {
  browser = await launchChromium();
  shop = await startShop(['--seed', '6']);
  mortal = await startShop(['--seed', '6']);
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
  await mortal?.stop();
});

const live = (page: Page) =>
  page.getByRole('status').getByText('Live').waitFor({ timeout: 40_000 });

async function openCircuit(url: string): Promise<Page> {
  const page = await browser.newPage({ viewport: sizes.desk, reducedMotion: 'reduce' });
  page.setDefaultTimeout(120_000);
  await page.goto(new URL(`#/circuit/${sensor}`, url).href);
  await live(page);
  await page.locator('.strip canvas').first().waitFor();
  await page.locator('.arcs li').first().waitFor({ timeout: 60_000 });
  return page;
}

/** Seconds of the widest hole in the first strip, between the first and the last line drawn. */
const widestHoleS = (page: Page) =>
  page
    .locator('.strip canvas')
    .first()
    .evaluate((canvas: HTMLCanvasElement) => {
      const { width, height } = canvas;
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, width, height);
      const style = getComputedStyle(document.documentElement).getPropertyValue('--accent');
      const accent = [1, 3, 5].map((at) => Number.parseInt(style.trim().slice(at, at + 2), 16));
      const plotted: number[] = [];
      for (let x = 0; x < width; x++)
        for (let y = 0; y < height; y++) {
          const at = 4 * (y * width + x);
          if (!accent.every((value, channel) => Math.abs(data[at + channel]! - value) < 24))
            continue;
          plotted.push(x);
          break;
        }
      const steps = plotted.slice(1).map((x, index) => x - plotted[index]!);
      return (60 * Math.max(0, ...steps)) / width;
    });

/** What the page shows is what the server has: no arc twice, none lacking, the flags right. */
async function agrees(expect: ExpectStatic, page: Page, url: string): Promise<void> {
  const get = async <T>(path: string) => (await (await fetch(new URL(path, url))).json()) as T;
  const shown = await page
    .locator('.arcs li a')
    .evaluateAll((links) => links.map((link) => link.getAttribute('href')));
  expect(new Set(shown).size).toBe(shown.length);
  await expect
    .poll(
      async () => {
        const { arcs } = await get<ArcPage>(`/api/v1/arcs?sensor=${sensor}&limit=5`);
        const links = await page
          .locator('.arcs li a')
          .evaluateAll((all) => all.slice(0, 5).map((link) => link.getAttribute('href')));
        const starts = new Set(arcs.map((arc) => arc.startedAt));
        return starts.size === arcs.length && links.join() === arcs.map(byId).join();
      },
      { timeout: 30_000 },
    )
    .toBe(true);
  await page.goto(new URL('#/', url).href);
  await expect
    .poll(
      async () => {
        const sensors = await get<Sensor[]>('/api/v1/sensors');
        const flags = sensors.reduce((sum, each) => sum + each.flags, 0);
        const line = await page.locator('.flag-line').textContent();
        return Number(/\d+/.exec(line ?? '')?.[0]) - flags;
      },
      { timeout: 30_000 },
    )
    .toBe(0);
}
const byId = ({ id }: { id: number }) => `#/arc/${id}`;

// Nearly all of these three is waiting, so they wait together; each has an `expect` of its own.
test.concurrent('a wire goes dead: the gap is shown and told, then filled from history', async ({
  expect,
}) => {
  const wire = new Wire(shop.url);
  await wire.lay();
  const page = await openCircuit(wire.url);
  await sleep(5_000);
  expect(await widestHoleS(page)).toBeLessThan(2);
  wire.cut();
  await page.getByRole('status').getByText('Stale').waitFor({ timeout: 10_000 });
  await page.getByRole('status').getByText('Cut off since').waitFor({ timeout: 20_000 });
  await sleep(6_000);
  wire.mend();
  await live(page);
  await expect.poll(() => widestHoleS(page), { timeout: 10_000 }).toBeGreaterThan(8);
  const told = (await page.locator('.missed').textContent()) ?? '';
  const seconds = Number(/heard nothing for (\d+) s/.exec(told)?.[1]);
  expect(seconds).toBeGreaterThan(10);
  expect(seconds).toBeLessThan(90);
  expect(told).toMatch(/Judged meanwhile: \d+|No arc was judged/);
  await expect.poll(() => widestHoleS(page), { timeout: 20_000 }).toBeLessThan(3);
  await page.screenshot({ path: 'tests/.out/recovered-desk.png' });
  await agrees(expect, page, wire.url);
  await page.close();
  await wire.close();
});

test.concurrent('a page frozen for a minute goes on, with nothing lost and nothing twice', async ({
  expect,
}) => {
  const page = await openCircuit(shop.url);
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Page.setWebLifecycleState', { state: 'frozen' });
  await sleep(60_000);
  await devtools.send('Page.setWebLifecycleState', { state: 'active' });
  await live(page);
  await expect.poll(() => widestHoleS(page), { timeout: 20_000 }).toBeLessThan(3);
  await agrees(expect, page, shop.url);
  await page.close();
});

test.concurrent('a server that was killed and started again: what it has is shown, once', async ({
  expect,
}) => {
  const page = await openCircuit(mortal.url);
  await mortal.kill();
  await page.getByRole('status').getByText('Cut off since').waitFor({ timeout: 15_000 });
  const port = new URL(mortal.url).port;
  // A break of less than five seconds is no news, and a quick machine starts in two.
  await sleep(6_000);
  mortal = await startShop(['--seed', '6', '--http-port', port], mortal.data);
  await live(page);
  await page.locator('.missed').waitFor();
  await agrees(expect, page, mortal.url);
  await page.close();
});
