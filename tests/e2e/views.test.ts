import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFaults } from './axe.ts';
import { launchChromium, overflow, sizes } from './chromium.ts';
import { type RunningShop, startShop } from './stiffline-run.ts';
import { weakArcs } from './weak-arcs.ts';

let browser: Browser;
let shop: RunningShop;
let arcs: number[];

beforeAll(async () => {
  browser = await launchChromium();
  shop = await startShop(['--seed', '3']);
  arcs = await weakArcs(shop.url, 2);
  // A sheet to look at, and with it a line in the list of changes.
  const job = { number: '2611-04', vehicle: 'blue van, right sill', by: 'Ida' };
  const answer = await fetch(new URL('/api/v1/jobs', shop.url), {
    ...{ method: 'POST', headers: { 'content-type': 'application/json' } },
    body: JSON.stringify(job),
  });
  expect(answer.status).toBe(201);
});
afterAll(async () => {
  await browser?.close();
  await shop?.stop();
});

const views = {
  floor: () => ['#/', 'article.card'],
  wall: () => ['#/wall', '.place'],
  flags: () => ['#/flags', '.flag-list li'],
  circuit: () => ['#/circuit/harbour-lane.bay-1-machine', '.arcs li'],
  arc: () => [`#/arc/${arcs[0]}`, '.chart canvas'],
  'two arcs': () => [`#/arc/${arcs[0]}/beside/${arcs[1]}`, '.beside canvas'],
  checks: () => ['#/checks', '.check select'],
  remedies: () => ['#/right/harbour-lane.bay-1-machine', '.remedies li'],
  plan: () => ['#/plan', '.plan input'],
  shop: () => ['#/shop', '.stock a'],
  plate: () => ['#/edit-plate/1', '.editor input'],
  'new circuit': () => ['#/edit-circuit/new', '.editor input'],
  people: () => ['#/people', '.people .editor input'],
  changes: () => ['#/audit', '.changes li'],
  settings: () => ['#/settings', 'main select'],
  jobs: () => ['#/jobs', '.jobs .editor input'],
  job: () => ['#/job/1', '.jobs .job-list a, .jobs a.main'],
} satisfies Record<string, () => [string, string] | string[]>;

async function open(view: keyof typeof views, size: { width: number; height: number }) {
  const page = await browser.newPage({ viewport: size, reducedMotion: 'reduce' });
  const [hash = '', ready = ''] = views[view]();
  await page.goto(new URL(hash, shop.url).href);
  await page.locator(ready).first().waitFor({ timeout: 30_000 });
  await page.getByRole('status').getByText('Live').waitFor();
  return page;
}

const narrow = { width: 320, height: 256 };

/** One opening a view: at both sizes, then dark and at 400 % of a 1280-pixel screen. */
test.each(Object.keys(views) as (keyof typeof views)[])(
  '%s is clean by axe-core on phone and desk, in the dark, and flows at 400 percent',
  async (view) => {
    const page = await open(view, sizes.desk);
    for (const [name, size] of Object.entries({ ...sizes, narrow })) {
      await page.setViewportSize(size);
      if (size === narrow) await page.emulateMedia({ colorScheme: 'dark' });
      expect(await axeFaults(page)).toEqual([]);
      await expect.poll(() => overflow(page)).toBeLessThanOrEqual(0);
      await page.screenshot({ path: `tests/.out/${view.replaceAll(' ', '-')}-${name}.png` });
    }
    await page.close();
  },
);

test.each([
  ['floor', 'phone'],
  ['floor', 'desk'],
  ['checks', 'phone'],
  ['checks', 'desk'],
] as const)(
  'everything to touch on %s is 56 pixels or more each way, on a %s',
  async (view, size) => {
    const page = await open(view, sizes[size]);
    if (view === 'floor') await page.locator('a.flags').first().waitFor();
    if (size === 'phone') await page.locator('nav .more').click();
    const small = await page.evaluate(() =>
      [...document.querySelectorAll('main :is(a, button, input, select), header :is(a, button)')]
        // A box to tick is touched by its whole label.
        .map((element) =>
          element.matches('[type=checkbox], [type=radio]') ? element.closest('label')! : element,
        )
        .map((element) => ({ element, box: element.getBoundingClientRect() }))
        .filter(({ box }) => box.width > 0 && Math.min(box.width, box.height) < 55.99)
        .map(({ element, box }) => `${element.outerHTML.slice(0, 120)} ${box.width}x${box.height}`),
    );
    expect(small).toEqual([]);
    await page.close();
  },
);

test('a filter survives a reload; the circuits it hides are told', async () => {
  const page = await open('floor', sizes.desk);
  const all = await page.locator('article.card').count();
  await page.getByRole('radio', { name: 'Not heard' }).check();
  await page.getByText(`None of ${all} fits this choice now.`).waitFor();
  await page.reload();
  await page.getByText(`None of ${all} fits this choice now.`).waitFor();
  await page.getByRole('button', { name: 'Show all' }).click();
  await expect.poll(() => page.locator('article.card').count()).toBe(all);
  await page.getByRole('searchbox').fill('generator');
  await expect.poll(() => page.locator('article.card').count()).toBe(1);
  await page.close();
});

test('a flag stays until a person with a name takes it down, for every page', async () => {
  const other = await open('floor', sizes.desk);
  const page = await open('flags', sizes.phone);
  // By its address: others come meanwhile, and the list holds the newest.
  const href = await page.locator('.flag-list li a').first().getAttribute('href');
  const first = page.locator('.flag-list li', { has: page.locator(`a[href="${href}"]`) });
  await first.getByRole('button').click();
  await page.getByRole('alert').getByText('Write your name first').waitFor();
  await page.getByLabel('Your name').fill('Robin of bay 1');
  await first.getByRole('button').click();
  await page.locator(`.flag-list a[href="${href}"]`).waitFor({ state: 'detached' });
  await page.reload();
  await page.locator('.flag-list li').first().waitFor();
  expect(await page.locator(`.flag-list a[href="${href}"]`).count()).toBe(0);
  const id = href!.split('/').at(-1);
  const { summary } = (await (await fetch(new URL(`/api/v1/arcs/${id}`, shop.url))).json()) as {
    summary: { acknowledged: { by: string } };
  };
  expect(summary.acknowledged.by).toBe('Robin of bay 1');
  await other.getByText('that nobody has acknowledged').waitFor();
  await Promise.all([page.close(), other.close()]);
});

test('a plate is refused by field, then saved, and hangs on a sensor', async () => {
  const page = await browser.newPage({ viewport: sizes.desk });
  await page.goto(new URL('#/edit-plate/new', shop.url).href);
  await page.getByLabel('Machine').fill('Petrel 140');
  await page.getByLabel('U₁, V').fill('240');
  await page.getByLabel('I₁max, A').fill('-20');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.locator('.field', { hasText: 'I₁max' }).locator('.field-fault').waitFor();
  expect(await page.evaluate(() => document.activeElement?.getAttribute('name'))).toBe(
    'supply[0].I1max',
  );
  await page.getByLabel('I₁max, A').fill('20');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.locator('.stock').getByText('Petrel 140').waitFor();
  const yard = page.getByRole('group', { name: /^yard/ });
  await yard.getByLabel('Machine plugged in').selectOption({ label: 'Petrel 140' });
  await page.getByText('yard is set.').waitFor();
  await page.goto(new URL('#/', shop.url).href);
  await page.locator('article', { hasText: 'Petrel 140' }).waitFor();
  await page.close();
});

test('keys alone: past the head, into the charts, closer, along and back', async () => {
  const page = await open('arc', sizes.desk);
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('H1');
  const frame = page.locator('.chart .frame').first();
  const shown = () =>
    frame.locator('canvas').evaluate((canvas: HTMLCanvasElement) => canvas.toDataURL());
  for (let press = 0; press < 40; press++) {
    await page.keyboard.press('Tab');
    if (await frame.evaluate((element) => element === document.activeElement)) break;
  }
  expect(await frame.evaluate((element) => element === document.activeElement)).toBe(true);
  const whole = await shown();
  await page.keyboard.press('+');
  await expect.poll(shown).not.toBe(whole);
  const closer = await shown();
  await page.keyboard.press('ArrowRight');
  await expect.poll(shown).not.toBe(closer);
  await page.keyboard.press('Home');
  await expect.poll(shown).toBe(whole);
  // An arc's heading comes with its answer, later than the way there: it gets the focus yet.
  await page.evaluate((id) => {
    location.hash = `#/arc/${id}`;
  }, arcs[1]);
  await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe('H1');
  await page.close();
});
