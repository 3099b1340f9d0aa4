import type { Verb } from '../shared/command/flags.ts';
import { readFlags } from '../shared/command/flags.ts';
import { Exit, OperatingError } from '../shared/command/outcome.ts';
import { data, host, mqttPort, untilStopped } from '../shared/command/server-flags.ts';
import { Accounts, serverAccount } from './accounts.ts';
import { buildBroker } from './broker.ts';

const flags = {
  'mqtt-port': mqttPort,
  host,
  data,
  'add-sensor': { kind: 'text', says: 'make an account for SITE.SENSOR, print it once, and end' },
} as const;

export const verb = {
  name: 'broker',
  says: 'Carries messages between sensors and servers (MQTT 3.1.1).',
  words: [],
  flags,
} satisfies Verb<typeof flags>;

export async function main(argv: readonly string[], signal: AbortSignal): Promise<number> {
  const { flags: given } = readFlags(verb, argv, process.env);
  const accounts = new Accounts(given.data);
  const added = given['add-sensor'];
  if (added !== undefined) {
    if (!added.includes('.'))
      throw new OperatingError(
        `--add-sensor "${added}": SITE.SENSOR is needed, harbour-lane.bay-9`,
      );
    process.stdout.write(`${JSON.stringify(await accounts.add(added))}\n`);
    return Exit.done;
  }
  await accounts.own(serverAccount);
  const broker = await buildBroker({ accounts });
  const port = await broker.listen(given['mqtt-port'], given.host);
  process.stdout.write(`mqtt://${given.host}:${port}\n`);
  await untilStopped(signal);
  await broker.close();
  process.stderr.write(`stiffline: broker stopped; refused ${JSON.stringify(broker.refused)}\n`);
  return Exit.done;
}
