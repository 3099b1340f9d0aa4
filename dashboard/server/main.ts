import { readFlags, type Verb } from '../../shared/command/flags.ts';
import { Exit } from '../../shared/command/outcome.ts';
import {
  data,
  host,
  httpPort,
  publicUrl,
  trustedProxy,
  untilStopped,
} from '../../shared/command/server-flags.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { buildDashboard, openStore } from './dashboard.ts';
import { Proxies } from './http/proxies.ts';
import { MqttLink, serverCredentials } from './mqtt-link.ts';

const flags = {
  'http-port': httpPort,
  host,
  'trusted-proxy': trustedProxy,
  'public-url': publicUrl,
  data,
  broker: { kind: 'text', says: 'where the sensors publish', value: 'mqtt://127.0.0.1:1883' },
} as const;

export const verb = {
  name: 'serve',
  says: 'Takes sensors in from a broker, judges and stores, serves the page.',
  words: [],
  flags,
} satisfies Verb<typeof flags>;

const say = (line: string) => process.stderr.write(`stiffline: ${line}\n`);

export async function main(argv: readonly string[], signal: AbortSignal): Promise<number> {
  const { flags: given } = readFlags(verb, argv, process.env);
  const credentials = serverCredentials(given.data);
  const store = openStore(given.data);
  let link: MqttLink | null = null;
  const dashboard = await buildDashboard({
    store,
    makeWatch: (setup, events) => new Watch(setup, events),
    link: { publish: (topic, payload) => link?.publish(topic, payload) },
    host: given.host,
    proxies: new Proxies(given['trusted-proxy'], given['public-url'], say),
    say,
  });
  const url = await dashboard.listen(given['http-port']);
  dashboard.start();
  link = new MqttLink(given.broker, credentials, (...of) => dashboard.ingest.receive(...of), say);
  process.stdout.write(`${url}\n`);
  await untilStopped(signal);
  await link.close();
  await dashboard.stop();
  return Exit.done;
}
