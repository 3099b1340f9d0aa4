import { parseTopic, sensorKinds, serverKinds, topicRoot } from '../shared/protocol/topics.ts';
import type { Account } from './accounts.ts';

const fromSensor: ReadonlySet<string> = new Set(sensorKinds);
const fromServer: ReadonlySet<string> = new Set(serverKinds);
/** Only what a newcomer must know at once may be retained, so a broker's memory stays bounded. */
const retained: ReadonlySet<string> = new Set(['about', 'state']);

/** A sensor speaks its own kinds under its own topic; the server speaks keep and ask to any. */
export function mayPublish(account: Account, topic: string, retain: boolean): boolean {
  const parsed = parseTopic(topic);
  if (!parsed) return false;
  if (retain && !retained.has(parsed.kind)) return false;
  if (account.role === 'server') return fromServer.has(parsed.kind);
  return (
    fromSensor.has(parsed.kind) && parsed.site === account.site && parsed.sensor === account.sensor
  );
}

/** A sensor hears its own keep and ask, word by word; the server hears anything of ours. */
export function maySubscribe(account: Account, filter: string): boolean {
  if (account.role === 'server') return filter.startsWith(`${topicRoot}/`);
  const parsed = parseTopic(filter);
  return (
    parsed !== null &&
    fromServer.has(parsed.kind) &&
    parsed.site === account.site &&
    parsed.sensor === account.sensor
  );
}
