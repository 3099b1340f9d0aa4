import { readFlags, type Verb } from '../shared/command/flags.ts';
import { Exit, UsageError } from '../shared/command/outcome.ts';
import { scenarioList, scenarioOf } from './catalogue.ts';
import { brokerAddress } from './credentials.ts';
import { memoryText } from './firmware/memory-table.ts';
import { record } from './record.ts';
import { startSensors } from './sensors.ts';

const flags = {
  scenario: { kind: 'text', says: 'name of a scenario (--list), or a file', value: 'harbour-lane' },
  list: { kind: 'switch', says: 'tell the scenarios there are, and end' },
  memory: { kind: 'switch', says: 'tell what the firmware takes of a board, and end' },
  seed: {
    kind: 'number',
    says: 'the same seed gives the same bytes',
    value: 1,
    min: 0,
    max: 4_294_967_295,
    whole: true,
  },
  seconds: { kind: 'number', says: 'length; with --broker: no end', min: 0.1, max: 604_800 },
  record: { kind: 'text', says: 'write COMTRADE to this .cfg (or .cff), as fast as it goes' },
  truth: { kind: 'text', says: 'write what was so (supply, arcs, faults) to this JSON file' },
  point: { kind: 'text', says: 'sensor to record; the first of the scenario where none is named' },
  broker: { kind: 'text', says: 'publish to this broker, mqtt://[name:password@]host:port' },
  credentials: { kind: 'text', says: 'file with username and password, or folder of such' },
  site: { kind: 'text', says: 'site the sensors belong to', value: 'harbour-lane' },
  flash: { kind: 'text', says: "folder of the sensors' flash; without: forgotten at the end" },
  speed: { kind: 'number', says: 'times as fast as real', value: 1, min: 0.1, max: 100 },
} as const;

export const verb = {
  name: 'sensor',
  says: 'Plays the sensors of a scenario: to a broker, or into a file.',
  words: [],
  flags,
} satisfies Verb<typeof flags>;

/** Seconds of a recording that names no length. */
const usualSeconds = 60;

export async function main(argv: readonly string[], signal: AbortSignal): Promise<number> {
  const { flags: given } = readFlags(verb, argv, process.env);
  if (given.list) {
    process.stdout.write(scenarioList());
    return Exit.done;
  }
  if (given.memory) {
    for (const pairs of [1, 2, 3])
      process.stdout.write(`${memoryText({ pairs, rateHz: 10_240, bits: 16 })}\n`);
    return Exit.done;
  }
  const scenario = scenarioOf(given.scenario);
  const { seed } = given;
  if (given.record !== undefined && given.broker === undefined) {
    const seconds = given.seconds ?? usualSeconds;
    const { truth: truthPath, point, record: path } = given;
    await record({ scenario, seed, seconds, path, truthPath, point, signal });
    return Exit.done;
  }
  if (given.broker === undefined || given.record !== undefined)
    throw new UsageError('sensor: either --record FILE or --broker URL is needed');
  const { site, speed, flash } = given;
  const { url, credentials } = brokerAddress(given.broker, given.credentials, site, process.env);
  const { stopped } = await startSensors({
    scenario,
    seed,
    speed,
    brokerUrl: url,
    credentials,
    flashDir: flash ?? null,
    site,
    signal,
    ...(given.seconds !== undefined && { seconds: given.seconds }),
    says: (line) => process.stderr.write(`stiffline: ${line}\n`),
  });
  await stopped;
  return Exit.done;
}
