import { readdirSync, readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { axeFaults } from './axe.ts';
import { launchChromium, sizes } from './chromium.ts';
import { startShop } from './stiffline-run.ts';

let browser: Browser;

beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(async () => {
  await browser?.close();
});

/** As soon as the worker answers for the page. */
const controlled = (page: Page) =>
  page.evaluate(
    () =>
      navigator.serviceWorker.controller !== null ||
      new Promise((resolve) => {
        navigator.serviceWorker.addEventListener('controllerchange', () => resolve(true));
      }),
  );

/** Every address that is kept on the device. */
const keptPaths = (page: Page) =>
  page.evaluate(async () => {
    const names = await caches.keys();
    const all = await Promise.all(
      names.map(async (name) =>
        (await (await caches.open(name)).keys()).map(({ url }) => new URL(url).pathname),
      ),
    );
    return { names, paths: all.flat().sort() };
  });

test('a part of the page that does not come says so, and comes when it can', async () => {
  const shop = await startShop(['--no-sensors']);
  const context = await browser.newContext({ serviceWorkers: 'block' });
  const page = await context.newPage();
  await page.route('**/assets/desk-room-*.js', (route) => route.abort());
  await page.goto(`${shop.url}#/plan`);
  await page.getByRole('heading', { name: 'could not be fetched' }).waitFor();
  await page.unroute('**/assets/desk-room-*.js');
  await page.getByRole('button', { name: 'Try now' }).click();
  await page.getByRole('heading', { name: 'Plan machines and circuits' }).waitFor();
  await context.close();
  await shop.stop();
});

describe('installed', () => {
  test('a browser finds nothing wrong with it as an app', async () => {
    const shop = await startShop(['--no-sensors']);
    const page = await browser.newPage();
    await page.goto(shop.url);
    await controlled(page);
    const devtools = await page.context().newCDPSession(page);
    const { errors, data } = await devtools.send('Page.getAppManifest');
    expect(errors).toEqual([]);
    const { icons } = JSON.parse(data ?? '{}') as { icons: { src: string; sizes: string }[] };
    for (const { src, sizes: asked } of icons.filter((icon) => icon.sizes !== 'any')) {
      const bytes = readFileSync(join('dist/web', src));
      const [width, height] = [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
      expect(`${width}x${height}`).toBe(asked);
    }
    const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
    // Playwright's contexts count as private windows, and those install nothing.
    const wrong = installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito');
    expect(wrong).toEqual([]);
    await page.close();
    await shop.stop();
  });
});

describe('without its server', () => {
  test('the page opens, says since when, shows no figure, and comes back by itself', async () => {
    const shop = await startShop(['--seed', '4']);
    const context = await browser.newContext({ viewport: sizes.phone });
    const page = await context.newPage();
    await page.goto(shop.url);
    await page.getByRole('status').getByText('Live').waitFor();
    await page.locator('article.card').first().waitFor();
    await controlled(page);
    const { names, paths } = await keptPaths(page);
    expect(names).toHaveLength(1);
    expect(paths).toContain('/');
    expect(paths.filter((path) => /^\/(api|healthz|readyz|metrics)/.test(path))).toEqual([]);
    await shop.kill();
    for (const hash of ['#/', '#/arc/1', '#/wall', '#/plan']) {
      const opened = await context.newPage();
      await opened.goto(new URL(hash, shop.url).href);
      await opened.getByText(/No connection to the server since \d/).waitFor();
      expect(await opened.locator('.value, .mark, .ladder, .chart, article').count()).toBe(0);
      if (hash === '#/') {
        expect(await axeFaults(opened)).toEqual([]);
        await opened.screenshot({ path: 'tests/.out/no-server-phone.png' });
      }
      if (hash !== '#/wall') await opened.close();
    }
    const again = await startShop(['--http-port', new URL(shop.url).port], shop.data);
    const wall = context.pages().at(-1)!;
    await wall.locator('.place').first().waitFor({ timeout: 20_000 });
    await context.close();
    await again.stop();
  });
});

describe('a new build', () => {
  let server: Server;
  let url: string;
  let build: (path: string) => Buffer | null;

  beforeAll(async () => {
    server = createServer((request, response) => {
      const path = new URL(request.url ?? '/', 'http://here').pathname;
      const body = build(path === '/' ? '/index.html' : path);
      if (!body) return void response.writeHead(404).end();
      response.writeHead(200, { 'content-type': types[extname(path)] ?? 'text/html' }).end(body);
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  });
  afterAll(() => new Promise((resolve) => server.close(resolve)));

  test('is shown at the next opening, replaces the old one, opens without the server', async () => {
    build = first;
    const context: BrowserContext = await browser.newContext();
    const page = await context.newPage();
    await page.goto(url);
    await controlled(page);
    const [old] = (await keptPaths(page)).names;
    build = second;
    await page.reload();
    expect(await page.content()).toContain('built newer');
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    await expect
      .poll(async () => (await keptPaths(page)).names, { timeout: 30_000 })
      .not.toContain(old);
    const { names, paths } = await keptPaths(page);
    expect(names).toEqual(['shell-newer']);
    expect(paths.filter((path) => path.startsWith('/assets/')).length).toBeGreaterThan(1);
    build = () => null;
    server.closeAllConnections();
    await new Promise((resolve) => server.close(resolve));
    await page.reload();
    expect(await page.content()).toContain('built newer');
    await context.close();
  });
});

const types: Record<string, string> = {
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
};

const files = new Map(
  readdirSync('dist/web', { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => {
      const path = join(entry.parentPath, entry.name);
      return [path.slice('dist/web'.length), readFileSync(path)] as const;
    }),
);
const first = (path: string) => files.get(path) ?? null;

/** The same files by other names, as after a change of every source. */
function second(path: string): Buffer | null {
  const body = files.get(path.replace('newer', '')) ?? null;
  if (path === '/sw.js')
    return Buffer.from(
      String(body)
        .replace(/"version":"\w+"/, '"version":"newer"')
        .replaceAll('/assets/', '/assets/newer'),
    );
  if (path !== '/index.html') return path.startsWith('/assets/newer') ? body : first(path);
  return Buffer.from(
    String(body)
      .replace('<title>', '<meta name="built" content="built newer"><title>newer ')
      .replaceAll('/assets/', '/assets/newer'),
  );
}
