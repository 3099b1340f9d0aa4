import { createServer, type Server, type Socket } from 'node:net';
import { Aedes, type AedesOptions, type AuthenticateError, type Client } from 'aedes';
import { OperatingError } from '../shared/command/outcome.ts';
import type { Account, Accounts } from './accounts.ts';
import { mayPublish, maySubscribe } from './authorise.ts';
import { guardSocket } from './frame-guard.ts';
import { limits } from './limits.ts';

/** Why a client or a packet was turned away; counted since start. */
export type Refusal =
  | 'anonymous'
  | 'credentials'
  | 'session'
  | 'publish'
  | 'subscribe'
  | 'frame'
  | 'protocol';

export interface BrokerOptions {
  accounts: Accounts;
  /** Sees each publish of a client, in this process, after authorisation; synchronous. */
  published?: (topic: string, payload: Uint8Array) => void;
}

export interface Broker {
  /** @throws OperatingError when the port is taken or the address not ours. Gives the port. */
  listen(port: number, host: string): Promise<number>;
  /** Publishes for the server in this process, which needs no account. */
  publish(topic: string, payload: Uint8Array): void;
  clients(): number;
  readonly refused: Readonly<Record<Refusal, number>>;
  close(): Promise<void>;
}

/** Builds a broker that does nothing yet. MQTT 3.1.1 over TCP; every option of aedes is stated. */
export async function buildBroker(options: BrokerOptions): Promise<Broker> {
  const door = new Door(options);
  const aedes = await Aedes.createBroker(door.aedesOptions());
  aedes.on('clientError', (_client, error) => door.fault(error));
  aedes.on('connectionError', (_client, error) => door.fault(error));
  const server = createServer({ noDelay: true }, (socket) => door.enter(aedes, socket));
  server.maxConnections = limits.clients;
  return {
    listen: (port, host) => listen(server, port, host),
    publish: (topic, payload) =>
      aedes.publish(
        { cmd: 'publish', topic, payload: Buffer.from(payload), qos: 1, retain: false, dup: false },
        () => {},
      ),
    clients: () => aedes.connectedClients,
    refused: door.refused,
    close: () => close(aedes, server),
  };
}

/** Who comes in and what they may do. */
class Door {
  readonly refused: Record<Refusal, number> = {
    anonymous: 0,
    credentials: 0,
    session: 0,
    publish: 0,
    subscribe: 0,
    frame: 0,
    protocol: 0,
  };
  readonly #accounts: Accounts;
  readonly #published: BrokerOptions['published'];
  readonly #known = new WeakMap<Client, Account>();

  constructor(options: BrokerOptions) {
    this.#accounts = options.accounts;
    this.#published = options.published;
  }

  enter(aedes: Aedes, socket: Socket): void {
    guardSocket(socket, limits.frameBytes, () => this.refused.frame++);
    aedes.handle(socket);
  }

  /** Aedes tells its own refusals by message alone; ours are counted where they are made. */
  fault(error: Error & { refusal?: Refusal }): void {
    if (!error.refusal && error.message !== 'not authorized') this.refused.protocol++;
  }

  aedesOptions(): AedesOptions {
    return {
      concurrency: limits.deliveriesAtOnce,
      heartbeatInterval: 60_000,
      connectTimeout: limits.connectTimeoutMs,
      drainTimeout: limits.drainTimeoutMs,
      keepaliveLimit: limits.keepaliveS,
      queueLimit: limits.queueBeforeSession,
      maxInflightInbound: limits.inflightQos2,
      maxClientsIdLength: 64,
      maxTopicLevels: limits.topicLevels,
      trustProxy: false,
      trustedProxies: [],
      authenticate: (client, username, password, done) => {
        // A session kept for an absent client would queue without bound; sensors resend instead.
        if (!client.clean) return done(this.#refuse('session', 2), null);
        if (!username || !password) return done(this.#refuse('anonymous', 5), null);
        this.#accounts.check(username, password.toString()).then(
          (account) => {
            if (!account) return done(this.#refuse('credentials', 4), null);
            this.#known.set(client, account);
            // A second client of one id ends the first [MQTT-3.1.4-2]: its own, never another's.
            client.id = `${username} ${client.id}`;
            done(null, true);
          },
          () => done(this.#refuse('credentials', 3), null),
        );
      },
      authorizePublish: (client, packet, done) => {
        const account = client && this.#known.get(client);
        const may = account && mayPublish(account, packet.topic, packet.retain);
        done(may ? null : this.#refuse('publish', 5));
      },
      authorizeSubscribe: (client, subscription, done) => {
        const account = this.#known.get(client);
        if (account && maySubscribe(account, subscription.topic)) return done(null, subscription);
        this.refused.subscribe++;
        done(null, null); // SUBACK 0x80 [MQTT-3.9.3]
      },
      authorizeForward: (_client, packet) => packet,
      published: (packet, client, done) => {
        // Without a client it is the broker's own: its birth, its heartbeat, the server's keep.
        if (client) this.#published?.(packet.topic, packet.payload as Buffer);
        done();
      },
    };
  }

  #refuse(refusal: Refusal, returnCode: number): AuthenticateError {
    this.refused[refusal]++;
    return Object.assign(new Error(`refused: ${refusal}`), { refusal, returnCode });
  }
}

function listen(server: Server, port: number, host: string): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) =>
      reject(
        new OperatingError(
          error.code === 'EADDRINUSE'
            ? `MQTT port ${port} on ${host} is in use; --mqtt-port names another, 0 any free one`
            : `MQTT port ${port} on ${host}: ${error.message}`,
        ),
      ),
    );
    server.listen({ port, host, backlog: 511 }, () => {
      const address = server.address();
      resolve(typeof address === 'object' && address ? address.port : port);
    });
  });
}

async function close(aedes: Aedes, server: Server): Promise<void> {
  const closed = new Promise<void>((resolve) => server.close(() => resolve()));
  await new Promise<void>((resolve) => aedes.close(() => resolve()));
  if (server.listening) await closed;
}
