/**
 * Topics: `stiffline/v1/<site>/<sensor>/<kind>`. Identity stands in the topic, so a broker can tell
 * who may say what; version, times and ids stand in the payload.
 */
export const topicRoot = 'stiffline/v1';
/** Levels of every topic of ours; a broker refuses deeper ones before it matches anything. */
export const topicLevels = 5;

/** What a sensor publishes. */
export const sensorKinds = ['about', 'state', 'rows', 'arc', 'wave', 'answer'] as const;
/** What a server publishes to one sensor. */
export const serverKinds = ['keep', 'ask'] as const;
export type SensorKind = (typeof sensorKinds)[number];
export type ServerKind = (typeof serverKinds)[number];
export type Kind = SensorKind | ServerKind;

/**
 * How each kind is sent, at the least. What is numbered must come; rows may be lost, the next
 * second has newer ones; `keep` is told anew whenever a sensor shows that it lacks it.
 */
export const delivery: Record<Kind, { qos: 0 | 1; retain: boolean }> = {
  about: { qos: 1, retain: true },
  state: { qos: 1, retain: true },
  rows: { qos: 0, retain: false },
  arc: { qos: 1, retain: false },
  wave: { qos: 1, retain: false },
  answer: { qos: 1, retain: false },
  keep: { qos: 0, retain: false },
  ask: { qos: 0, retain: false },
};

export interface Topic {
  site: string;
  sensor: string;
  kind: Kind;
}

/** Lower case, digits, inner hyphens, 32 at most: safe in a topic, a file name and a URL. */
const word = /^[a-z0-9](?:[a-z0-9-]{0,30}[a-z0-9])?$/;
const kinds: ReadonlySet<string> = new Set([...sensorKinds, ...serverKinds]);

/** Whether a site or sensor may be called so. */
export const isTopicWord = (name: string): boolean => word.test(name);

export const formatTopic = (site: string, sensor: string, kind: Kind): string =>
  `${topicRoot}/${site}/${sensor}/${kind}`;

/** Null when the topic is none of ours. */
export function parseTopic(topic: string): Topic | null {
  const [root, version, site, sensor, kind, ...more] = topic.split('/');
  if (`${root}/${version}` !== topicRoot || more.length > 0) return null;
  if (site === undefined || sensor === undefined || kind === undefined) return null;
  if (!isTopicWord(site) || !isTopicWord(sensor) || !kinds.has(kind)) return null;
  return { site, sensor, kind: kind as Kind };
}

/** One word for a sensor of a site, in URLs and in the store; a dot is in neither word. */
export const sensorId = (site: string, sensor: string): string => `${site}.${sensor}`;

/** Inverse of `sensorId`; null when it is no such word. */
export function parseSensorId(id: string): { site: string; sensor: string } | null {
  const [site = '', sensor = '', ...more] = id.split('.');
  return more.length === 0 && isTopicWord(site) && isTopicWord(sensor) ? { site, sensor } : null;
}
