/**
 * How the floor draws: Chromium with sixteen circuits in sight, arcs coming and going on them,
 * while one server takes in those and idle sensors. Frames are what `requestAnimationFrame` is
 * called for; the heap is taken after forced collections. Headless Chromium without a graphics
 * card paces frames by a timer of its own at 60 a second and paints on the processor: a frame that
 * comes late was late for want of processor, the page's or its neighbours'. Beside it the same
 * page before any sensor, which is what the machine gives at that moment.
 * Needs `dist/`. `npx tsx tests/bench/frames.ts [--seconds 30 | --minutes 60] [--idle 84] [--json]`
 */
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import type { CDPSession, Page } from 'playwright-core';
import { launchChromium, sizes } from '../e2e/chromium.ts';
import { benchShop } from './live/shop.ts';

const liveCount = 16;
const goal = { framesPerS: 60, p95Ms: 20 };
const idleMs = 4_000;
/** The first readings fill each circuit's rings, which is no leak. */
const settleMs = 8_000;
const heapSamples = 12;
/** A hundred sensors that sign in one after another on two busy cores. */
const seenWithinMs = 60_000;
const flag = (name: string) => {
  const at = process.argv.indexOf(name);
  return at > 0 ? Number(process.argv[at + 1]) : null;
};
const seconds = 60 * (flag('--minutes') ?? 0) || (flag('--seconds') ?? 30);
const idlers = flag('--idle') ?? 84;

/** Counts in the page in whole tenths of a millisecond, so that an hour takes no more room. */
const counter = `(() => {
  const bins = new Uint32Array(10000);
  const told = { bins, longTasks: 0, longMs: 0 };
  let last = null;
  const frame = (now) => {
    if (last !== null) bins[Math.min(9999, Math.round((now - last) * 10))]++;
    last = now;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) { told.longTasks++; told.longMs += duration; }
  }).observe({ type: 'longtask' });
  globalThis.benchFrames = () => {
    const out = { ...told, bins: [...bins] };
    bins.fill(0); told.longTasks = 0; told.longMs = 0;
    return out;
  };
})()`;

interface Counted {
  bins: number[];
  longTasks: number;
  longMs: number;
}

function spread({ bins, longTasks, longMs }: Counted, overS: number) {
  const count = bins.reduce((sum, bin) => sum + bin, 0);
  const at = (part: number) => {
    let seen = 0;
    return bins.findIndex((bin) => (seen += bin) >= part * count) / 10;
  };
  const totalMs = bins.reduce((sum, bin, tenths) => sum + (bin * tenths) / 10, 0);
  const figures = { p50Ms: at(0.5), p95Ms: at(0.95), p99Ms: at(0.99), longTasks, longMs };
  return { framesPerS: (1_000 * count) / totalMs, ...figures, overS };
}

/** Live bytes of the page's JavaScript: the least of some looks, for frames come between them. */
async function heap(session: CDPSession): Promise<number> {
  const looks: number[] = [];
  for (let n = 0; n < 5; n++) {
    await session.send('HeapProfiler.collectGarbage');
    const { metrics } = await session.send('Performance.getMetrics');
    looks.push(metrics.find(({ name }) => name === 'JSHeapUsedSize')!.value);
  }
  return Math.min(...looks);
}

/** Least squares, bytes a second. */
function slope(points: readonly { atS: number; bytes: number }[]): number {
  const mean = (of: (point: { atS: number; bytes: number }) => number) =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [t, b] = [mean(({ atS }) => atS), mean(({ bytes }) => bytes)];
  const over = mean(({ atS }) => (atS - t) ** 2);
  return mean(({ atS, bytes }) => (atS - t) * (bytes - b)) / over;
}

const counted = (page: Page) => page.evaluate('benchFrames()') as Promise<Counted>;

async function measured(page: Page, feed: () => void) {
  const session = await page.context().newCDPSession(page);
  await session.send('Performance.enable');
  await page.evaluate(counter);
  await page.waitForTimeout(idleMs);
  const alone = spread(await counted(page), idleMs / 1e3);
  feed();
  const cards = page.locator('article.card');
  await cards.nth(liveCount - 1).waitFor({ timeout: seenWithinMs });
  await page.waitForTimeout(settleMs);
  const heaps = [{ atS: 0, bytes: await heap(session) }];
  const all: Counted = { bins: new Array(10_000).fill(0), longTasks: 0, longMs: 0 };
  const started = performance.now();
  for (let n = 0; n < heapSamples; n++) {
    // What a forced collection stops is no frame of ours: counting begins anew after it.
    await page.evaluate('new Promise((then) => requestAnimationFrame(then))');
    await counted(page);
    await page.waitForTimeout((1e3 * seconds) / heapSamples);
    const part = await counted(page);
    part.bins.forEach((bin, at) => {
      all.bins[at]! += bin;
    });
    all.longTasks += part.longTasks;
    all.longMs += part.longMs;
    heaps.push({ atS: (performance.now() - started) / 1e3, bytes: await heap(session) });
  }
  return { alone, live: spread(all, seconds), heaps, cards: await cards.count() };
}

function lines({ alone, live, heaps, cards }: Awaited<ReturnType<typeof measured>>): string {
  const line = (says: string, of: typeof live) =>
    `${says.padEnd(30)} ${of.framesPerS.toFixed(1)} frames/s, ` +
    `p50 ${of.p50Ms.toFixed(1)}, p95 ${of.p95Ms.toFixed(1)}, p99 ${of.p99Ms.toFixed(1)} ms, ` +
    `${of.longTasks} long tasks (${of.longMs.toFixed(0)} ms) in ${of.overS} s\n`;
  const mb = (bytes: number) => (bytes / 1e6).toFixed(2);
  return (
    line('before any sensor', alone) +
    line(`${cards} circuits live`, live) +
    `${'goal'.padEnd(30)} ${goal.framesPerS} frames/s, p95 ≤ ${goal.p95Ms} ms\n` +
    `heap after collection: ${heaps.map(({ bytes }) => mb(bytes)).join(', ')} MB; ` +
    `slope ${((slope(heaps) * 60) / 1e3).toFixed(1)} kB a minute (goal: flat)\n`
  );
}

async function main(): Promise<void> {
  if (!existsSync('dist/web/index.html')) throw new Error('build first: npm run build');
  const folder = mkdtempSync(join(tmpdir(), 'stiffline-bench-'));
  const seen = Array.from({ length: liveCount }, (_, n) => `seen${n}`);
  const idle = Array.from({ length: idlers }, (_, n) => `idle${n}`);
  const shop = await benchShop(folder, [...seen, ...idle]);
  const browser = await launchChromium();
  try {
    const page = await browser.newPage({ viewport: sizes.desk });
    await page.addInitScript(() => localStorage.setItem('stiffline.find', 'seen'));
    await page.goto(shop.url);
    const told = await measured(page, () => {
      shop.begin(seen, { burnS: 3, restS: 1.5, firstS: 2 });
      shop.begin(idle, null);
    });
    const shot = process.env.STIFFLINE_BENCH_SHOT;
    if (shot) await page.screenshot({ path: shot });
    const load = loadavg().map((value) => Number(value.toFixed(1)));
    const cores = `${cpus().length} × ${cpus()[0]?.model}`;
    const machine = `${cores}, Node ${process.version}, load ${load[0]}`;
    if (process.argv.includes('--json')) {
      const heapSlope = slope(told.heaps);
      const out = { subject: 'frames', machine, load, goal, ...told, heapBytesPerS: heapSlope };
      process.stdout.write(`${JSON.stringify(out)}\n`);
    } else
      process.stdout.write(
        `Floor, ${liveCount} circuits in sight of ${liveCount + idlers} (${machine})\n` +
          lines(told),
      );
  } finally {
    await browser.close();
    await shop.stop();
    rmSync(folder, { recursive: true });
  }
}

await main();
