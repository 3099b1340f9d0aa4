import { assert } from '../shared/assert.ts';
import { payloadBytesMost } from '../shared/protocol/messages.ts';
import { topicLevels } from '../shared/protocol/topics.ts';

/** Every bound of the broker, with its reason. */
export const limits = {
  /** A big shop has some hundreds of outlets; each connection costs about 50 kB. */
  clients: 2_048,
  /** A payload, its topic (at most 5 levels of 32) and a packet's fixed and variable header. */
  frameBytes: payloadBytesMost + 256,
  topicLevels,
  /** A client that has not said who it is after this is none. */
  connectTimeoutMs: 5_000,
  /**
   * One subscriber that stops reading holds the delivery slots of all others until this has
   * passed. A healthy link drains in milliseconds; the usual 60 s would lose most of a minute.
   */
  drainTimeoutMs: 2_000,
  /** Messages on their way to subscribers at once; also the slots that a frozen one can hold. */
  deliveriesAtOnce: 200,
  /** Packets that a client may send ahead of its own CONNACK. */
  queueBeforeSession: 16,
  /** Nothing of ours uses QoS 2; a client that does may have a few half-open. */
  inflightQos2: 16,
  /** Longest silence a client may ask for: its last will is told after one and a half of these. */
  keepaliveS: 120,
  /** Names of accounts in the file. */
  accounts: 4_096,
} as const;

assert(limits.drainTimeoutMs < limits.connectTimeoutMs, 'a frozen client goes before a silent one');
assert(limits.frameBytes > payloadBytesMost, 'a full payload fits its frame');
