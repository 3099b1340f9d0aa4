import { messageSchemas, payloadBytesMost } from '../../../shared/protocol/messages.ts';
import {
  delivery,
  type Kind,
  sensorKinds,
  serverKinds,
  topicRoot,
} from '../../../shared/protocol/topics.ts';

const says: Record<Kind, { title: string; summary: string }> = {
  about: {
    title: 'What a sensor is',
    summary: 'Channels, rate and scale; told once at each start.',
  },
  state: {
    title: 'How a sensor is',
    summary: 'Every five seconds and on change; the broker tells the last will, "lost".',
  },
  rows: {
    title: 'Half-cycle rows',
    summary: 'True r.m.s. volts and amperes and the power of each half cycle, a second at a time.',
  },
  arc: { title: 'Border of an arc', summary: 'The sensor’s own sight of it, numbered.' },
  wave: {
    title: 'Block of samples',
    summary: 'Interleaved counts v1, i1, v2 …, around arcs and sags; numbered, kept until `keep`.',
  },
  keep: {
    title: 'What is stored',
    summary: 'All up to this number is on disk and may be let go. A PUBACK says no such thing.',
  },
  ask: { title: 'Question to a sensor', summary: 'What may be asked is the sensor’s to say.' },
  answer: { title: 'Reply to a question', summary: 'With the question’s id.' },
};

const capital = (kind: string) => kind[0]!.toUpperCase() + kind.slice(1);
const bySensor = (kind: Kind) => (sensorKinds as readonly string[]).includes(kind);

/**
 * The topics and messages as an AsyncAPI 3.0 document, from the schemas that check them. It is
 * written as the server sees it: it receives what sensors say and sends `keep` and `ask`.
 */
export function asyncApi(version: string) {
  const kinds: Kind[] = [...sensorKinds, ...serverKinds];
  const each = <Value>(of: (kind: Kind) => Value, key = (kind: Kind): string => kind) =>
    Object.fromEntries(kinds.map((kind) => [key(kind), of(kind)]));
  return {
    asyncapi: '3.0.0',
    info: {
      title: 'Stiffline sensors',
      version,
      description:
        'MQTT 3.1.1. Payloads are CBOR maps (RFC 8949) of at most ' +
        `${payloadBytesMost} bytes; columns are little-endian typed arrays (RFC 8746), which the ` +
        'schemas name by their tag. Times are microseconds since 1970 UTC, places count samples ' +
        'since the sensor’s start.',
    },
    defaultContentType: 'application/cbor',
    channels: each((kind) => ({
      address: `${topicRoot}/{site}/{sensor}/${kind}`,
      title: says[kind].title,
      messages: { [kind]: { $ref: `#/components/messages/${kind}` } },
      parameters: {
        site: { $ref: '#/components/parameters/site' },
        sensor: { $ref: '#/components/parameters/sensor' },
      },
    })),
    operations: each(
      (kind) => ({
        action: bySensor(kind) ? 'receive' : 'send',
        channel: { $ref: `#/channels/${kind}` },
        messages: [{ $ref: `#/channels/${kind}/messages/${kind}` }],
        summary: bySensor(kind) ? 'Sensor to server.' : 'Server to sensor.',
        bindings: { mqtt: { ...delivery[kind], bindingVersion: '0.2.0' } },
      }),
      (kind) => `${bySensor(kind) ? 'receive' : 'send'}${capital(kind)}`,
    ),
    components: {
      parameters: {
        site: { description: 'Lower case, digits and inner hyphens, 32 at most.' },
        sensor: { description: 'The same; one of a kind within its site.' },
      },
      messages: each((kind) => ({
        name: kind,
        ...says[kind],
        contentType: 'application/cbor',
        payload: { $ref: `#/components/schemas/${capital(kind)}` },
      })),
      schemas: each((kind): object => messageSchemas[kind], capital),
    },
  };
}
