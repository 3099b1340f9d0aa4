/**
 * What the live feed costs the server: the rows of 100 sensors, 20 kB each twentieth of a second,
 * to 10 and to 100 pages, in parts of a core above what the same rows cost where no page looks on.
 * Beside it a bare WebSocket server that sends as many bytes in ready-made frames.
 * `npx tsx tests/bench/live-feed.ts [--json]`
 */
import { spawn } from 'node:child_process';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { WebSocketServer } from 'ws';
import { buildApp } from '../../dashboard/server/app.ts';
import { Access } from '../../dashboard/server/http/access.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { LiveRows } from '../../shared/protocol/live-rows.ts';
import { Watch } from '../../shared/watch/watch.ts';

const hertz = 20;
const warmSeconds = 4;
const seconds = 10;
const sensors = 100;
/** Eight rows of one pair are 200 bytes. */
const rowCount = 8;
const frameBytes = sensors * 200;
/** Pages → parts of a core in hundredths. */
const goals: Record<number, number> = { 10: 3, 100: 10 };

const column = (value: number) => new Float32Array(rowCount).fill(value);
const rows = (slot: number): LiveRows => ({
  ...{ slot, timeMs: new Float64Array(rowCount), hertz: column(60) },
  ...{ volts: [column(120)], amps: [column(18)], watts: [column(2000)] },
});

interface Feed {
  url: string;
  send: () => void;
  close: () => Promise<unknown>;
}

async function ours(): Promise<Feed> {
  const store = new MemoryStore();
  const floor = new Floor(store);
  const ingest = new Ingest({
    ...{ store, floor, link: { publish: () => {} }, say: () => {} },
    makeWatch: (setup, events) => new Watch(setup, events),
  });
  const parts = { store, floor, ingest, access: new Access(false) };
  const app = await buildApp({ ...parts, version: '0', webRoot: 'none' });
  await app.listen({ port: 0, host: '127.0.0.1' });
  const { port } = app.server.address() as { port: number };
  return {
    url: `ws://127.0.0.1:${port}/api/v1/live`,
    send: () => {
      for (let slot = 0; slot < sensors; slot++) floor.hub.rows(rows(slot));
    },
    close: () => app.close(),
  };
}

async function bare(): Promise<Feed> {
  const server = new WebSocketServer({ port: 0, host: '127.0.0.1', perMessageDeflate: false });
  await new Promise((resolve) => server.once('listening', resolve));
  const { port } = server.address() as { port: number };
  return {
    url: `ws://127.0.0.1:${port}`,
    send: () => {
      const bytes = Buffer.alloc(frameBytes);
      for (const client of server.clients) client.send(bytes, { binary: true });
    },
    close: () => {
      for (const client of server.clients) client.terminate();
      return new Promise((resolve) => server.close(resolve));
    },
  };
}

const pause = (forSeconds: number) => new Promise((then) => setTimeout(then, 1_000 * forSeconds));

/** Part of a core that this process took, and bytes a second that arrived at all pages. */
async function cost(open: () => Promise<Feed>, pages: number) {
  const feed = await open();
  const path = fileURLToPath(new URL('live/pages.ts', import.meta.url));
  const child = spawn(process.execPath, ['--import', 'tsx', path, feed.url, String(pages)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await new Promise((resolve) => child.stdout.once('data', resolve));
  const timer = setInterval(feed.send, 1_000 / hertz);
  // The engine compiles what it finds hot in the first seconds, which is no cost of a page.
  await pause(warmSeconds);
  const before = process.cpuUsage();
  const started = performance.now();
  await pause(seconds);
  const { user, system } = process.cpuUsage(before);
  const elapsedS = (performance.now() - started) / 1_000;
  clearInterval(timer);
  const told = new Promise<string>((resolve) =>
    child.stdout.once('data', (data) => resolve(String(data))),
  );
  child.kill('SIGTERM');
  const bytes = Number(await told);
  await feed.close();
  return { core: (user + system) / 1e6 / elapsedS, bytesPerS: bytes / (elapsedS + warmSeconds) };
}

async function main(): Promise<void> {
  const machine = `${cpus().length} × ${cpus()[0]?.model}, Node ${process.version}`;
  const lines: string[] = [];
  const told: Record<string, number> = {};
  const without = { bare: await cost(bare, 0), ours: await cost(ours, 0) };
  told.ours0 = without.ours.core;
  told.bare0 = without.bare.core;
  for (const pages of [10, 100]) {
    const of = { bare: await cost(bare, pages), ours: await cost(ours, pages) };
    told[`ours${pages}`] = of.ours.core - without.ours.core;
    told[`bare${pages}`] = of.bare.core - without.bare.core;
    const percent = (part: number | undefined) => `${(100 * (part ?? 0)).toFixed(1)} % of a core`;
    lines.push(
      `${pages} pages, ${hertz} × ${frameBytes / 1e3} kB a second each, ` +
        `${(of.ours.bytesPerS / 1e6).toFixed(1)} MB/s arrived: ` +
        `ours ${percent(told[`ours${pages}`])} above ${percent(told.ours0)} without a page ` +
        `(goal: ≤ ${goals[pages]} %), bare ws ${percent(told[`bare${pages}`])}`,
    );
  }
  if (process.argv.includes('--json'))
    process.stdout.write(`${JSON.stringify({ subject: 'live-feed', machine, ...told })}\n`);
  else process.stdout.write(`Live feed (${machine})\n${lines.join('\n')}\n`);
}

await main();
