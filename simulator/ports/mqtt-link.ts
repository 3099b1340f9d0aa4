import mqtt, { type MqttClient } from 'mqtt';
import { delivery, formatTopic } from '../../shared/protocol/topics.ts';
import type { Link, Received, SentKind } from '../hal.ts';

export interface MqttLinkOptions {
  /** mqtt://host:port */
  url: string;
  username: string;
  password: string;
  site: string;
  sensor: string;
  /** Told by the broker for a sensor that is gone. */
  will: Uint8Array;
  /** 0 to 1, for the jitter of reconnects. */
  chance?: () => number;
}

/** Every bound of the link, with its reason. */
export const linkLimits = {
  /** Publishes that wait for their PUBACK: a window of the firmware's, and some to spare. */
  pending: 48,
  /** Bytes of the same: 48 blocks of the widest sensor would be more than a host should hold. */
  pendingBytes: 1_048_576,
  /** A broker answers in milliseconds; a connection that has not for this long is dead. */
  publishTimeoutMs: 5_000,
  connectTimeoutMs: 5_000,
  /** Half-open connections are found after one and a half of these. */
  keepaliveS: 10,
  /** Reconnects wait twice as long each time, plus up to as much again by chance. */
  reconnectMs: { least: 250, most: 15_000 },
  /** Messages from the server that wait for a tick. */
  inbox: 32,
  /** Longest of them: what the firmware has room for. */
  receivedBytes: 512,
} as const;

/** Told apart in a log, since a user can do something about the first. */
export type LinkTrouble = { kind: 'refused' | 'unreachable'; says: string };

/**
 * MQTT 3.1.1 by MQTT.js, a client a connection: the library queues without bound while it is
 * offline and resends on its own terms, so it never gets to be offline with anything in hand.
 */
export class MqttLink implements Link {
  session = 0;
  /** Why attempts fail, from the second in a row on; null once connected. */
  trouble: LinkTrouble | null = null;
  /** Messages that found the inbox full or were longer than the firmware takes. */
  dropped = 0;
  readonly #options: MqttLinkOptions;
  readonly #topics: Record<SentKind | Received['kind'], string>;
  readonly #inbox: { kind: Received['kind']; bytes: Uint8Array }[] = [];
  #client: MqttClient | null = null;
  #sessions = 0;
  #attempts = 0;
  #timer: NodeJS.Timeout | undefined;
  #closed = false;
  #pendingBytes = 0;
  /** When each publish was handed over, in that order; ids let an acknowledged one be found. */
  readonly #pending = new Map<number, number>();
  #ids = 0;

  constructor(options: MqttLinkOptions) {
    this.#options = options;
    const topic = (kind: SentKind | Received['kind']) =>
      formatTopic(options.site, options.sensor, kind);
    this.#topics = {
      about: topic('about'),
      state: topic('state'),
      rows: topic('rows'),
      arc: topic('arc'),
      wave: topic('wave'),
      answer: topic('answer'),
      keep: topic('keep'),
      ask: topic('ask'),
    };
  }

  open(): void {
    this.#connect();
  }

  send(kind: SentKind, payload: Uint8Array, length: number): boolean {
    const client = this.#client;
    if (!client || this.session === 0 || !this.#takes(length)) return false;
    const id = ++this.#ids;
    this.#pending.set(id, performance.now());
    this.#pendingBytes += length;
    // A copy: the library hands the bytes to the socket later, and the firmware's buffer is reused.
    client.publish(
      this.#topics[kind],
      Buffer.from(payload.subarray(0, length)),
      delivery[kind],
      () => {
        if (this.#pending.delete(id)) this.#pendingBytes -= length;
      },
    );
    return true;
  }

  receive(message: Received): boolean {
    const next = this.#inbox.shift();
    if (!next) return false;
    message.kind = next.kind;
    message.bytes.set(next.bytes);
    message.length = next.bytes.length;
    return true;
  }

  /** Says goodbye: the broker tells no last will. Resolves within two seconds, come what may. */
  async close(): Promise<void> {
    this.#closed = true;
    clearTimeout(this.#timer);
    const client = this.#client;
    this.#client = null;
    this.session = 0;
    if (!client) return;
    await new Promise<void>((resolve) => {
      const cut = setTimeout(() => {
        client.end(true);
        resolve();
      }, 1_500);
      client.end(!client.connected, {}, () => {
        clearTimeout(cut);
        resolve();
      });
    });
  }

  #takes(length: number): boolean {
    const [oldest] = this.#pending.values();
    if (oldest !== undefined && performance.now() - oldest > linkLimits.publishTimeoutMs) {
      this.#client?.stream.destroy();
      return false;
    }
    return (
      this.#pending.size < linkLimits.pending &&
      this.#pendingBytes + length <= linkLimits.pendingBytes
    );
  }

  #connect(): void {
    const { url, username, password, site, sensor, will } = this.#options;
    const client = mqtt.connect(url, {
      protocolVersion: 4,
      clean: true,
      clientId: `${site}.${sensor}`.slice(0, 64),
      username,
      password,
      keepalive: linkLimits.keepaliveS,
      connectTimeout: linkLimits.connectTimeoutMs,
      reconnectPeriod: 0,
      queueQoSZero: false,
      resubscribe: false,
      will: { topic: this.#topics.state, payload: Buffer.from(will), ...delivery.state },
    });
    this.#client = client;
    client.on('connect', () => this.#subscribe(client));
    client.on('message', (topic, payload) => this.#heard(topic, payload));
    client.on('error', (error) => this.#failed(error));
    client.on('close', () => this.#lost(client));
  }

  #subscribe(client: MqttClient): void {
    client.subscribe([this.#topics.keep, this.#topics.ask], { qos: 1 }, (error) => {
      if (client !== this.#client) return;
      if (error) {
        this.#failed(error);
        client.stream.destroy();
        return;
      }
      this.#attempts = 0;
      this.trouble = null;
      this.session = ++this.#sessions;
    });
  }

  /** Only copies: work in this handler would hold up the library's own acknowledgements. */
  #heard(topic: string, payload: Buffer): void {
    const kind = topic === this.#topics.keep ? 'keep' : 'ask';
    if (payload.length > linkLimits.receivedBytes || this.#inbox.length >= linkLimits.inbox)
      this.dropped++;
    else this.#inbox.push({ kind, bytes: Uint8Array.from(payload) });
  }

  #failed(error: Error & { code?: number | string }): void {
    const says = error.message || String(error.code ?? 'no connection');
    const refused = error.code === 4 || error.code === 5;
    // A broker that starts beside us may miss the first attempt.
    if (refused || this.#attempts > 0)
      this.trouble = { kind: refused ? 'refused' : 'unreachable', says };
  }

  #lost(client: MqttClient): void {
    if (client !== this.#client) return;
    this.#client = null;
    this.session = 0;
    this.#pending.clear();
    this.#pendingBytes = 0;
    this.#inbox.length = 0;
    client.end(true);
    if (this.#closed) return;
    const { least, most } = linkLimits.reconnectMs;
    const wait = Math.min(most, least * 2 ** this.#attempts++);
    const chance = this.#options.chance ?? Math.random;
    this.#timer = setTimeout(() => this.#connect(), wait * (1 + chance()));
  }
}
