import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { connect, type MqttClient } from 'mqtt';
import { OperatingError } from '../../shared/command/outcome.ts';
import { delivery, sensorKinds, topicRoot } from '../../shared/protocol/topics.ts';
import type { Link } from './ingest/ingest.ts';

const subscriptions = Object.fromEntries(
  sensorKinds.map((kind) => [`${topicRoot}/+/+/${kind}`, { qos: delivery[kind].qos }]),
);
const reconnectMs = 1_000;
const connectTimeoutMs = 5_000;

/** The way to the sensors over a broker elsewhere. Connects, and again for ever after a break. */
export class MqttLink implements Link {
  readonly #client: MqttClient;

  constructor(
    brokerUrl: string,
    credentials: { username: string; password: string },
    receive: (topic: string, payload: Uint8Array) => void,
    say: (line: string) => void,
  ) {
    this.#client = connect(brokerUrl, {
      ...credentials,
      protocolVersion: 4,
      clean: true,
      keepalive: 30,
      connectTimeout: connectTimeoutMs,
      reconnectPeriod: reconnectMs,
      // A `keep` of before the break is told anew at the sensor's next word; nothing is queued.
      queueQoSZero: false,
      resubscribe: false,
    });
    let told = '';
    const once = (line: string) => {
      if (line !== told) say(line);
      told = line;
    };
    this.#client.on('connect', () => {
      once(`connected to ${brokerUrl}`);
      this.#client.subscribe(subscriptions);
    });
    this.#client.on('error', (error) => once(`${brokerUrl}: ${error.message || 'no answer'}`));
    this.#client.on('close', () => once(`${brokerUrl}: not connected`));
    this.#client.on('message', receive);
  }

  publish(topic: string, payload: Uint8Array): void {
    if (this.#client.connected)
      this.#client.publish(topic, Buffer.from(payload), { qos: delivery.keep.qos });
  }

  async close(): Promise<void> {
    await this.#client.endAsync(true);
  }
}

/** The server's own account, where a broker of ours left it in the data folder. */
export function serverCredentials(data: string): { username: string; password: string } {
  const path = join(data, 'secrets', 'server.json');
  try {
    const { username, password } = JSON.parse(readFileSync(path, 'utf8')) as Record<string, string>;
    if (username && password) return { username, password };
  } catch {}
  throw new OperatingError(
    `${path}: the server's account at the broker is needed; stiffline broker --data makes it`,
  );
}
