/**
 * From the first half cycle of an underpowered arc to its flag on a page: real firmware on the real
 * clock, broker, server and SQLite in one process, a WebSocket client with the page's decoders in
 * another, idle sensors in a third. The arc's moment is that of its first sample. Beside it the
 * same path on a virtual clock, which no other work on the machine touches.
 * `npx tsx tests/bench/flag.ts [--arcs 100] [--idle 100] [--json]`
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { livePath } from '../../shared/protocol/live.ts';
import { pacedWaits } from './live/paced.ts';
import { benchShop, child, circuit, plate } from './live/shop.ts';

const welders = 4;
const limitMs = 250;
const settleMs = 8_000;
/** An arc's beginning as told is within half a half cycle of the truth; clocks are one. */
const nearMs = 50;
const arcs = { burnS: 0.8, restS: 1.7, firstS: 4 };
const number = (flag: string, usual: number) => {
  const at = process.argv.indexOf(flag);
  return at > 0 ? Number(process.argv[at + 1]) : usual;
};
const wanted = number('--arcs', 100);
const idlers = number('--idle', 100);

/** What arcs waited for each of their news, milliseconds. */
class Waits {
  readonly began: number[] = [];
  readonly flagged: number[] = [];
  readonly stored: number[] = [];
  readonly #strikes: { sensor: string; atMs: number }[] = [];
  readonly #news: { what: string; sensor: string; atMs: number; startedMs: number }[] = [];

  strike(sensor: string, atMs: number): void {
    this.#strikes.push({ sensor, atMs });
  }

  news(what: string, sensor: string, atMs: number, startedMs: number): void {
    this.#news.push({ what, sensor, atMs, startedMs });
  }

  get arcs(): number {
    return this.#news.filter(({ what }) => what === 'stored').length;
  }

  /** Joins the lists, which come by two pipes. The first arcs find programs that still start. */
  join(): this {
    const settledMs = (this.#strikes[0]?.atMs ?? 0) + settleMs;
    for (const { what, sensor, atMs, startedMs } of this.#news) {
      const strike = this.#strikes.find(
        (one) => one.sensor === sensor && Math.abs(one.atMs - startedMs) < nearMs,
      );
      if (!strike || strike.atMs < settledMs) continue;
      if (what === 'began' || what === 'flagged' || what === 'stored')
        this[what].push(atMs - strike.atMs);
    }
    return this;
  }
}

const share = (sorted: readonly number[], part: number) =>
  sorted[Math.min(sorted.length - 1, Math.ceil(part * sorted.length) - 1)] ?? Number.NaN;

function spread(waits: number[]) {
  const sorted = waits.toSorted((a, b) => a - b);
  const [p50, p95, p99] = [0.5, 0.95, 0.99].map((part) => share(sorted, part));
  return { count: sorted.length, least: sorted[0] ?? Number.NaN, p50, p95, p99 };
}

async function measured(folder: string): Promise<Waits> {
  const named = (what: string, count: number) => Array.from({ length: count }, (_, n) => what + n);
  const [weld, idle] = [named('weld', welders), named('idle', idlers)];
  const shop = await benchShop(folder, [...weld, ...idle]);
  const waits = new Waits();
  const url = shop.url.replace('http', 'ws') + livePath.slice(1);
  const page = child('listener.ts', [url], (line) => {
    const [what, sensor, ms, startedMs] = line.split(' ');
    if (what !== 'ready') waits.news(what!, sensor!, Number(ms), Number(startedMs));
  });
  shop.begin(idle, null);
  shop.begin(weld, arcs, (line) => {
    const [name, ms] = line.split(' ');
    waits.strike(`bench.${name}`, Number(ms));
  });
  while (waits.arcs < wanted) await new Promise((resolve) => setTimeout(resolve, 100));
  await shop.stop();
  page.kill();
  return waits.join();
}

async function main(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'stiffline-bench-'));
  const paced = pacedWaits(200, arcs, circuit, plate);
  const waits = await measured(folder);
  rmSync(folder, { recursive: true });
  const machine = `${cpus().length} × ${cpus()[0]?.model}, Node ${process.version}`;
  const told = {
    paced: spread(paced),
    began: spread(waits.began),
    flagged: spread(waits.flagged),
    stored: spread(waits.stored),
  };
  if (process.argv.includes('--json')) {
    process.stdout.write(`${JSON.stringify({ subject: 'flag', machine, limitMs, ...told })}\n`);
    return;
  }
  const line = (says: string, { count, least, p50, p95, p99 }: ReturnType<typeof spread>) =>
    `${says.padEnd(48)} ` +
    `${[least, p50, p95, p99].map((ms) => ms?.toFixed(0).padStart(6)).join('')}   of ${count}\n`;
  process.stdout.write(
    `From an arc's first sample to a page, ms: least, median, p95, p99 (${machine})\n` +
      line('flagged, on a virtual clock: what is built in', told.paced) +
      line('arc shown as burning', told.began) +
      line(`flagged underpowered (goal: p99 ≤ ${limitMs})`, told.flagged) +
      line(`stored and judged (arc of ${1_000 * arcs.burnS} ms, and its hold)`, told.stored),
  );
}

await main();
