import { readFlags, type Verb } from '../shared/command/flags.ts';
import { Exit, OperatingError } from '../shared/command/outcome.ts';
import { Progress } from '../shared/command/progress.ts';
import { openRecordingFile } from '../shared/files/recording-file.ts';
import { Board } from './board.ts';
import { brokerAddress } from './credentials.ts';
import { lastWill } from './firmware/firmware.ts';
import { maxRateHz, minRateHz } from './firmware/limits.ts';
import { Loop } from './loop.ts';
import { MemoryFlash } from './ports/memory-flash.ts';
import { MqttLink } from './ports/mqtt-link.ts';
import { RealClock } from './ports/real-clock.ts';
import { countsOf, inOwnCounts, peaksOf, RecordedAdc } from './ports/recorded-adc.ts';

const flags = {
  broker: { kind: 'text', says: 'broker to publish to', value: 'mqtt://127.0.0.1:1883' },
  credentials: {
    kind: 'text',
    says: 'file with username and password, or folder of such',
    value: 'data/secrets',
  },
  speed: { kind: 'number', says: 'times as fast as recorded', value: 1, min: 0.1, max: 100 },
  name: { kind: 'text', says: 'sensor to appear as', value: 'replay' },
  site: { kind: 'text', says: 'site it belongs to', value: 'harbour-lane' },
  at: {
    kind: 'text',
    says: 'where it was recorded, outlet or machine; left out, the page asks',
    choices: ['outlet', 'machine'],
  },
} as const;

export const verb = {
  name: 'replay',
  says: 'Publishes a recorded stream as a sensor, so the page shows it as live.',
  words: ['RECORDING'],
  flags,
} satisfies Verb<typeof flags>;

/** 16 MiB of flash; a recording waits at half of it, so nothing is ever dropped. */
const sectors = 256;
const backlogMost = 512;
/** A broker that is not there by now is not about to be. */
const connectMs = 10_000;

export async function main(argv: readonly string[], signal: AbortSignal): Promise<number> {
  const { words, flags: given } = readFlags(verb, argv, process.env);
  const path = words[0]!;
  const { site, name, speed } = given;
  const { url, credentials } = brokerAddress(given.broker, given.credentials, site, process.env);
  const clock = new RealClock(speed);
  const { adc, close } = openAdc(path, clock);
  const link = new MqttLink({
    ...credentials(name),
    url,
    site,
    sensor: name,
    will: lastWill(),
  });
  const hal = { adc, clock, link, flash: new MemoryFlash(sectors) };
  const at = given.at === 'outlet' || given.at === 'machine' ? given.at : null;
  const board = new Board(hal, { site, name, at }, false);
  const says = (line: string) => process.stderr.write(`stiffline: ${line}\n`);
  const progress = new Progress('replaying');
  const loop = new Loop(clock, [board], signal, says);
  let unheard = '';
  const since = performance.now();
  await loop.run(undefined, () => {
    adc.held = link.session === 0 || board.firmware.backlog > backlogMost;
    progress.show(adc.progress);
    unheard = adc.progress > 0 ? '' : giveUp(link, performance.now() - since);
    return adc.ended || unheard !== '';
  });
  progress.end();
  close();
  if (unheard) throw new OperatingError(`${url}: ${unheard}`);
  if (board.done) return Exit.done;
  throw new OperatingError(
    `${path}: ${board.firmware.backlog} blocks were not confirmed by a server on ${url}`,
  );
}

/** Why it is no use to try on before the first frame was sent; else nothing. */
function giveUp(link: MqttLink, elapsedMs: number): string {
  if (link.session > 0 || !link.trouble) return '';
  const { kind, says } = link.trouble;
  return kind === 'refused' || elapsedMs > connectMs ? says : '';
}

/** @throws OperatingError for what is no recording, or of a rate that no sensor has. */
function openAdc(path: string, clock: RealClock): { adc: RecordedAdc; close(): void } {
  const { reader, close } = openRecordingFile(path);
  const { rateHz } = reader.facts;
  if (rateHz < minRateHz || rateHz > maxRateHz)
    throw new OperatingError(
      `${path}: ${rateHz} samples a second; a sensor has ${minRateHz} to ${maxRateHz}`,
    );
  const peaks = inOwnCounts(reader) ? null : peaksOfFile(path);
  return { adc: new RecordedAdc(reader, countsOf(reader, peaks), clock), close };
}

/** A stream that does not hold a sensor's counts is read once more, for its peaks. */
function peaksOfFile(path: string): readonly number[] {
  const { reader, close } = openRecordingFile(path);
  try {
    return peaksOf(reader);
  } finally {
    close();
  }
}
