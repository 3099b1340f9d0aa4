import { join } from 'node:path';
import { Accounts, serverAccount } from '../../broker/accounts.ts';
import { buildBroker } from '../../broker/broker.ts';
import { assert } from '../../shared/assert.ts';
import { readFlags, type Verb } from '../../shared/command/flags.ts';
import { Exit } from '../../shared/command/outcome.ts';
import {
  data,
  host,
  httpPort,
  mqttPort,
  publicUrl,
  trustedProxy,
  untilStopped,
} from '../../shared/command/server-flags.ts';
import { readCircuit } from '../../shared/protocol/read-circuit.ts';
import { sensorId } from '../../shared/protocol/topics.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { type Scenario, scenarioByName } from '../../simulator/electrics/index.ts';
import { type Credentials, startSensors } from '../../simulator/sensors.ts';
import { buildDashboard, type Dashboard, openStore } from '../server/dashboard.ts';
import { Proxies } from '../server/http/proxies.ts';
import type { Store } from '../server/store/store.ts';

const flags = {
  'http-port': httpPort,
  'mqtt-port': mqttPort,
  data,
  host,
  'trusted-proxy': trustedProxy,
  'public-url': publicUrl,
  seed: {
    kind: 'number',
    says: 'of the simulated shop',
    value: 1,
    min: 0,
    max: 4_294_967_295,
    whole: true,
  },
  speed: { kind: 'number', says: 'times as fast as real', value: 1, min: 0.1, max: 20 },
  'no-sensors': { kind: 'switch', says: 'broker, server and page only' },
} as const;

export const verb = {
  name: 'run',
  says: 'Broker, server, page and a simulated shop, in one process.',
  words: [],
  flags,
} satisfies Verb<typeof flags>;

const site = 'harbour-lane';
const demo = 'harbour-lane';
/** Sensors close their captures and say good-bye; what takes longer is told at the next start. */
const goodbyeMs = 4_000;

const say = (line: string) => process.stderr.write(`stiffline: ${line}\n`);
type Given = ReturnType<typeof readFlags<typeof flags>>['flags'];

export async function main(argv: readonly string[], signal: AbortSignal): Promise<number> {
  const { flags: given } = readFlags(verb, argv, process.env);
  /** What was opened, closed in turn whatever happens: a port that is taken must end it all. */
  const closers: (() => unknown)[] = [];
  try {
    await run(given, signal, closers);
  } finally {
    for (const close of closers.reverse()) await close();
  }
  return Exit.done;
}

async function run(given: Given, signal: AbortSignal, closers: (() => unknown)[]): Promise<void> {
  const accounts = new Accounts(given.data);
  await accounts.own(serverAccount);
  const store = openStore(given.data);
  let dashboard: Dashboard | null = null;
  const broker = await buildBroker({
    accounts,
    published: (topic, payload) => dashboard?.ingest.receive(topic, payload),
  });
  closers.push(() => broker.close());
  const scenario = given['no-sensors'] ? null : scenarioByName(demo);
  dashboard = await buildDashboard({
    store,
    link: broker,
    makeWatch: (setup, events) => new Watch(setup, events),
    host: given.host,
    proxies: new Proxies(given['trusted-proxy'], given['public-url'], say),
    say,
    assignNew: scenario ? equip(store, scenario) : () => null,
    brokerRefused: () => broker.refused,
  });
  closers.push(() => dashboard?.stop());
  const mqttPort = await broker.listen(given['mqtt-port'], given.host);
  const url = await dashboard.listen(given['http-port']);
  dashboard.start();
  if (scenario) closers.push(await play(scenario, given, accounts, mqttPort));
  process.stdout.write(`${url}\n`);
  await untilStopped(signal);
}

/** Starts the simulated sensors; gives what stops them. */
async function play(
  scenario: Scenario,
  given: Given,
  accounts: Accounts,
  mqttPort: number,
): Promise<() => Promise<void>> {
  const credentials = new Map<string, Credentials>();
  for (const { sensors } of scenario.bays)
    for (const { name } of sensors) credentials.set(name, await accounts.own(sensorId(site, name)));
  // `stiffline replay` finds its own credentials beside a running shop.
  await accounts.own(sensorId(site, 'replay'));
  const anyAddress = given.host === '0.0.0.0' || given.host === '::';
  const host = anyAddress ? '127.0.0.1' : given.host.includes(':') ? `[${given.host}]` : given.host;
  const stop = new AbortController();
  const { stopped } = await startSensors({
    scenario,
    seed: given.seed,
    speed: given.speed,
    brokerUrl: `mqtt://${host}:${mqttPort}`,
    credentials: (sensor) => credentials.get(sensor)!,
    flashDir: join(given.data, 'flash'),
    site,
    signal: stop.signal,
    says: say,
  });
  return async () => {
    stop.abort();
    const late = new Promise<void>((resolve) => setTimeout(resolve, goodbyeMs).unref());
    await Promise.race([stopped, late]);
  };
}

/**
 * The plates and circuits of the simulated shop, stored at first run; from then on they are the
 * user's to change. Tells what hangs on a sensor that comes for the first time.
 */
function equip(store: Store, { bays }: Scenario) {
  const circuits = new Map(store.circuits.list().map(({ id, value }) => [value.name, id]));
  const plates = new Map(store.plates.list().map(({ id, value }) => [value.name, id]));
  const stamp = { atUs: Date.now() * 1_000, by: null };
  for (const { circuit, plate } of bays) {
    // Through JSON, which drops what the scenario leaves undefined.
    const read = readCircuit(JSON.parse(JSON.stringify(circuit)));
    assert(read.ok, `the demo's circuit "${circuit.name}" is one`);
    if (!circuits.has(circuit.name))
      circuits.set(circuit.name, store.circuits.add(read.value, stamp).id);
    if (plate && !plates.has(plate.name)) plates.set(plate.name, store.plates.add(plate, stamp).id);
  }
  return (id: string) => {
    const bay = bays.find(({ sensors }) => sensors.some(({ name }) => sensorId(site, name) === id));
    const circuit = bay && circuits.get(bay.circuit.name);
    if (circuit === undefined) return null;
    return { circuit, plate: (bay?.plate && plates.get(bay.plate.name)) ?? null };
  };
}
