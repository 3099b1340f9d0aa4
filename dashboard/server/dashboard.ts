import { mkdirSync } from 'node:fs';
import { networkInterfaces } from 'node:os';
import { dirname, join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { OperatingError } from '../../shared/command/outcome.ts';
import { buildApp } from './app.ts';
import { Access } from './http/access.ts';
import { Proxies } from './http/proxies.ts';
import { isLoopback } from './http/this-machine.ts';
import { Ingest, type IngestSetup, type Link } from './ingest/ingest.ts';
import type { MakeWatch } from './ingest/watching.ts';
import { limits } from './limits.ts';
import { Floor } from './live/floor.ts';
import { packageRoot, packageVersion } from './package.ts';
import { SqliteStore } from './store/sqlite-store.ts';
import type { Store } from './store/store.ts';

export interface DashboardOptions {
  store: Store;
  link: Link;
  makeWatch: MakeWatch;
  /** Address to listen on; any but loopback asks other devices for a code. */
  host: string;
  /** What stands in front of it; then other devices come over loopback too. */
  proxies?: Proxies;
  say: (line: string) => void;
  assignNew?: NonNullable<IngestSetup['assignNew']>;
  brokerRefused?: () => Record<string, number>;
}

/** Ingest, live feed and HTTP over one store; the link's messages go to `ingest.receive`. */
export interface Dashboard {
  ingest: Ingest;
  app: FastifyInstance;
  /** Takes up the stored streams and begins to take messages in. */
  start(): void;
  /**
   * Gives the URL, and says how other devices get in where they may.
   * @throws OperatingError when the port is taken.
   */
  listen(port: number): Promise<string>;
  stop(): Promise<void>;
}

export async function buildDashboard(options: DashboardOptions): Promise<Dashboard> {
  const { store, link, makeWatch, host, say } = options;
  const floor = new Floor(store);
  const ingest = new Ingest({
    ...{ store, floor, link, makeWatch, say },
    assignNew: options.assignNew ?? (() => null),
  });
  const { proxies = new Proxies() } = options;
  const access = new Access(!isLoopback(host) || proxies.expected, Date.now, proxies);
  const app = await buildApp({
    ...{ store, floor, ingest, access, version: packageVersion() },
    webRoot: join(packageRoot(), 'dist', 'web'),
    brokerRefused: options.brokerRefused ?? (() => ({})),
  });
  let sweep: NodeJS.Timeout | undefined;
  return {
    ingest,
    app,
    start() {
      ingest.start();
      floor.hub.start();
      sweep = setInterval(() => sweepUp(store, say), limits.sweepEveryMs);
    },
    async listen(port) {
      const url = await listen(app, port, host);
      const { publicUrl } = proxies;
      if (publicUrl) say(`at this machine: ${url}`);
      const abroad = publicUrl?.href ?? urlAbroad(url, host);
      if (access.code) say(`other devices: ${abroad} access code ${access.code}`);
      return publicUrl?.href ?? url;
    },
    async stop() {
      clearInterval(sweep);
      await app.close();
      ingest.stop();
      store.close();
    },
  };
}

/** Opens the store of a data folder, which is made where it is not there. */
export function openStore(data: string): Store {
  const path = join(data, 'stiffline.sqlite');
  try {
    mkdirSync(dirname(path), { recursive: true, mode: 0o700 });
  } catch (error) {
    throw new OperatingError(`${data}: ${error instanceof Error ? error.message : error}`);
  }
  return new SqliteStore(path);
}

async function listen(app: FastifyInstance, port: number, host: string): Promise<string> {
  try {
    await app.listen({ port, host });
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new OperatingError(
      code === 'EADDRINUSE'
        ? `HTTP port ${port} on ${host} is in use; --http-port names another, 0 any free one`
        : `HTTP port ${port} on ${host}: ${message}`,
    );
  }
  const address = app.server.address();
  const bound = typeof address === 'object' && address ? address.port : port;
  const any = host === '0.0.0.0' || host === '::';
  const name = any ? 'localhost' : host.includes(':') ? `[${host}]` : host;
  return `http://${name}:${bound}/`;
}

/**
 * This machine's address in the shop's network; a phone cannot use "localhost". Where only loopback
 * is listened to, the proxy's own, which is not known here.
 */
function urlAbroad(url: string, host: string): string {
  if (isLoopback(host)) return 'through the proxy,';
  if (host !== '0.0.0.0' && host !== '::') return url;
  const all = Object.values(networkInterfaces()).flatMap((addresses) => addresses ?? []);
  const own = all.find(({ internal, family }) => !internal && family === 'IPv4');
  return own ? `http://${own.address}:${new URL(url).port}/` : url;
}

function sweepUp(store: Store, say: (line: string) => void): void {
  try {
    store.sweep(limits.waveformBytes, Date.now() - limits.historyDays * 86_400_000);
  } catch (error) {
    say(`old records stay: ${error instanceof Error ? error.message : error}`);
  }
}
