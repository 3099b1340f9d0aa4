import type { EpochMicros, Hertz, SampleIndex } from '../shared/units.ts';

/**
 * What a board must give the firmware: a converter, a clock, a way to the broker, and flash.
 * Nothing here blocks, allocates or calls back; the firmware asks when it is ticked.
 */

/** What a converter says of itself. */
export interface AdcAbout {
  /** Voltage-current pairs, 1 to 3; frames are v1, i1[, v2, i2[, v3, i3]]. */
  readonly pairs: number;
  readonly rateHz: Hertz;
  /** Counts run from -2^(bits-1) to 2^(bits-1)-1; at most 24. */
  readonly bits: number;
  /** Volts or amperes a count, one entry a channel. */
  readonly scale: readonly number[];
}

/** Filled by `Adc.read`; the caller owns one and hands it over again and again. */
export interface AdcBlock {
  /** Frames that were written to `into`. */
  frames: number;
  /** Index of the first of them, counted since power-on; frames that were lost count too. */
  first: SampleIndex;
  /** `Clock.monotonicMicros` at which the first of them was taken. */
  micros: number;
  /** Frames that were lost just before the first one: the buffer ran over. */
  lost: number;
}

/** Simultaneous sampling of all channels into a buffer of the board's (DMA, say). */
export interface Adc {
  readonly about: AdcAbout;
  /** Moves the oldest frames that wait, as many as fit `into`; `frames` is 0 if none waits. */
  read(into: Int32Array, block: AdcBlock): void;
}

export interface Clock {
  /** Microseconds since power-on; a counter that is never set. */
  monotonicMicros(): number;
  /** The board's idea of the time of day; others set it, so it may jump either way. */
  wallMicros(): EpochMicros;
}

/** Kinds that a sensor sends, as they end its topics. */
export type SentKind = 'about' | 'state' | 'rows' | 'arc' | 'wave' | 'answer';

/** Filled by `Link.receive`; `bytes` is the caller's and long enough for any message. */
export interface Received {
  kind: 'keep' | 'ask';
  readonly bytes: Uint8Array;
  length: number;
}

/** A way to the broker. It may lose, delay, double or reorder: the firmware expects no better. */
export interface Link {
  /** Number of the connection, counting up; 0 while there is none. */
  readonly session: number;
  /** Takes a copy of `payload[0..length)`; false where it cannot now: ask again later. */
  send(kind: SentKind, payload: Uint8Array, length: number): boolean;
  /** Moves the oldest message that waits into `message`; false if none waits. */
  receive(message: Received): boolean;
}

/** NOR flash: erased bytes are 0xff, programming only clears bits. */
export interface Flash {
  readonly sectors: number;
  /** Bytes that one erase clears. */
  readonly sectorBytes: number;
  /** Longest stretch that one `program` may take; stretches keep within such a page. */
  readonly pageBytes: number;
  /** False where the bytes could not be read. */
  read(address: number, into: Uint8Array, length: number): boolean;
  /** Programs `bytes[from..from+length)`; lasting when it returns; false where it failed. */
  program(address: number, bytes: Uint8Array, from: number, length: number): boolean;
  /** False where the sector would not clear. */
  erase(sector: number): boolean;
}
