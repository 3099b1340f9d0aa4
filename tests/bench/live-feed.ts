/**
 * What the live feed costs the server: 20 frames a second of 20 kB to 10 and to 100 pages, in parts
 * of a core, beside a bare WebSocket server that sends the same bytes.
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
import { encodeRows } from '../../shared/protocol/live-rows.ts';
import { Watch } from '../../shared/watch/watch.ts';

const hertz = 20;
const seconds = 6;
/** 833 rows of one pair are 20 kB. */
const rowCount = 833;

const column = (value: number) => new Float32Array(rowCount).fill(value);
const frame = () =>
  encodeRows({
    ...{ slot: 0, serial: 0, timeMs: new Float64Array(rowCount), hertz: column(60) },
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
    send: () => floor.hub.rows(frame()),
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
      const bytes = frame();
      for (const client of server.clients) client.send(bytes, { binary: true });
    },
    close: () => {
      for (const client of server.clients) client.terminate();
      return new Promise((resolve) => server.close(resolve));
    },
  };
}

/** Part of a core that this process took, and bytes a second that arrived. */
async function cost(open: () => Promise<Feed>, pages: number) {
  const feed = await open();
  const path = fileURLToPath(new URL('live/pages.ts', import.meta.url));
  const child = spawn(process.execPath, ['--import', 'tsx', path, feed.url, String(pages)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await new Promise((resolve) => child.stdout.once('data', resolve));
  const before = process.cpuUsage();
  const started = performance.now();
  const timer = setInterval(feed.send, 1_000 / hertz);
  await new Promise((resolve) => setTimeout(resolve, seconds * 1_000));
  clearInterval(timer);
  const { user, system } = process.cpuUsage(before);
  const elapsedS = (performance.now() - started) / 1_000;
  const told = new Promise<string>((resolve) =>
    child.stdout.once('data', (data) => resolve(String(data))),
  );
  child.kill('SIGTERM');
  const bytes = Number(await told);
  await feed.close();
  return { core: (user + system) / 1e6 / elapsedS, bytesPerS: bytes / elapsedS };
}

async function main(): Promise<void> {
  const machine = `${cpus().length} × ${cpus()[0]?.model}, Node ${process.version}`;
  const lines: string[] = [];
  const told: Record<string, number> = {};
  for (const pages of [10, 100]) {
    const of = { bare: await cost(bare, pages), ours: await cost(ours, pages) };
    told[`ours${pages}`] = of.ours.core;
    told[`bare${pages}`] = of.bare.core;
    const percent = (part: number) => `${(100 * part).toFixed(1)} % of a core`;
    lines.push(
      `${pages} pages, ${hertz} × 20 kB a second each, ` +
        `${(of.ours.bytesPerS / 1e6).toFixed(1)} MB/s arrived: ` +
        `ours ${percent(of.ours.core)}, bare ws ${percent(of.bare.core)}`,
    );
  }
  if (process.argv.includes('--json'))
    process.stdout.write(`${JSON.stringify({ subject: 'live-feed', machine, ...told })}\n`);
  else process.stdout.write(`Live feed (${machine})\n${lines.join('\n')}\n`);
}

await main();
