import { type ChildProcess, spawn } from 'node:child_process';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { Accounts } from '../../../broker/accounts.ts';
import { buildBroker } from '../../../broker/broker.ts';
import { buildDashboard, type Dashboard } from '../../../dashboard/server/dashboard.ts';
import { SqliteStore } from '../../../dashboard/server/store/sqlite-store.ts';
import type { Plate } from '../../../shared/protocol/plate.ts';
import { Watch } from '../../../shared/watch/watch.ts';
import type { BoardOrders } from './boards.ts';
import type { Arcs } from './outlet.ts';

export const circuit = { name: 'Bench', volts: 240, phases: 1 as const, breakerAmps: 50 };
export const plate: Plate = {
  name: '240 V class inverter',
  phases: 1,
  hertz: [50, 60],
  supply: [{ U1: 240, I1max: 30, I1eff: 15 }],
  ratings: [{ X: 0.3, I2: 180, U2: 23 }],
  pulse: false,
  wireInches: [0.035],
};

/** A program of this folder, and each line that it says. */
export function child(
  file: string,
  words: string[],
  heard: (line: string) => void = () => {},
): ChildProcess {
  const path = fileURLToPath(new URL(file, import.meta.url));
  const started = spawn(process.execPath, ['--import', './.ci/types-off.mjs', path, ...words], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  createInterface({ input: started.stdout! }).on('line', heard);
  return started;
}

async function ended(process: ChildProcess): Promise<void> {
  const gone = new Promise((resolve) => process.once('close', resolve));
  process.stdin?.end();
  setTimeout(() => process.kill(), 8_000).unref();
  await gone;
}

/**
 * Broker, server and SQLite in this process, in `folder`; sensors of the real firmware on the real
 * clock in processes of their own, each with a circuit of its name and the plate above.
 */
export async function benchShop(folder: string, names: readonly string[]) {
  const accounts = new Accounts(folder);
  const sensors: BoardOrders['sensors'] = [];
  for (const name of names) sensors.push({ ...(await accounts.own(`bench.${name}`)), name });
  const store = new SqliteStore(join(folder, 'bench.sqlite'));
  const stamp = { atUs: Date.now() * 1_000, by: null };
  const plateId = store.plates.add(plate, stamp).id;
  let dashboard: Dashboard | null = null;
  const broker = await buildBroker({
    accounts,
    published: (topic, payload) => dashboard?.ingest.receive(topic, payload),
  });
  dashboard = await buildDashboard({
    ...{ store, link: broker, host: '127.0.0.1', say: (line) => process.stderr.write(`${line}\n`) },
    makeWatch: (setup, events) => new Watch(setup, events),
    assignNew: (sensor) => ({
      circuit: store.circuits.add({ ...circuit, name: `Bench ${sensor.split('.')[1]}` }, stamp).id,
      plate: plateId,
    }),
  });
  const port = await broker.listen(0, '127.0.0.1');
  const url = await dashboard.listen(0);
  dashboard.start();
  const running: ChildProcess[] = [];
  return {
    url,
    /** Some of the sensors begin; null: none of their arcs ever does. */
    begin(wanted: readonly string[], arcs: Arcs | null, heard?: (line: string) => void): void {
      const these = sensors.filter(({ name }) => wanted.includes(name));
      if (these.length === 0) return;
      const orders: BoardOrders = { port, sensors: these, arcs };
      const boards = child('boards.ts', [], heard);
      boards.stdin!.write(`${JSON.stringify(orders)}\n`);
      running.push(boards);
    },
    async stop(): Promise<void> {
      await Promise.all(running.map(ended));
      await dashboard.stop();
      await broker.close();
    },
  };
}
