import type { SensorClass } from '../metrology/uncertainty.ts';
import type { Circuit } from '../protocol/circuit.ts';
import type { Arc, OtherLoad, Sag, Supply } from '../protocol/judgement.ts';
import type { Plate } from '../protocol/plate.ts';
import type { CouponBand, SupplyEvidence, Work } from '../rules/facts.ts';
import type { Hanging } from '../rules/loops.ts';
import type { Said } from '../rules/say.ts';
import type { EpochMicros, Hertz, SampleIndex, Volts } from '../units.ts';

/** What a watch is told of the stream and of what hangs on it. */
export interface WatchSetup {
  rateHz: Hertz;
  /** Voltage–current pairs, 1 to 3. */
  pairs: number;
  startedAt: EpochMicros | null;
  /** Given, or null: found in the stream. */
  nominalVolts: Volts | null;
  nominalHertz: 50 | 60 | null;
  plate: Plate | null;
  circuit: Circuit | null;
  /** The end of the cord that the sensor itself states; left out: its circuit says, or nobody. */
  sensorAt?: 'outlet' | 'machine' | null;
  /** Supply power of the coupons that passed for this set-up; left out where none is known. */
  coupon?: CouponBand | null;
  couponNote?: Said | null;
  work?: Work | null;
  /**
   * Limits of error of the sensor, where they are stated. Without them findings reckon with class S
   * of IEC 61000-4-30, and the judgement's `supply` with what the samples say alone.
   */
  sensor?: SensorClass | null;
  /**
   * Flicker, unbalance and ten-second frequency are wanted in the judgement: of recordings that run
   * on, for a live sensor sends waveform around its arcs alone.
   */
  quality?: boolean;
  /**
   * Longest block that will be pushed in one piece; longer ones are taken in parts. 8 192 unless
   * told: it decides how much a watch holds while samples come.
   */
  blockFrames?: number;
  /**
   * All is asked by events and `judgement()` never, as of a live sensor: what only that would tell
   * (duty, figures of the whole stream) is not kept.
   */
  eventsOnly?: boolean;
  /**
   * Arcs, and sags, that `judgement()` lists: the first so many. None unless said: a watch that
   * runs for days hands them out by its events and keeps nothing.
   */
  keep?: number;
}

/** What is welded from now on, and what it is held against; a watch may be told in between. */
export interface Welding {
  work: Work | null;
  coupon: CouponBand | null;
  /** Why no band is given, said as advice; null where nobody set up anything. */
  couponNote: Said | null;
}

/** Half-cycle rows in columns, a batch; arrays are fresh and the receiver's to keep. */
export interface RowBatch {
  /** End of each row's window. */
  end: Float64Array;
  hertz: Float32Array;
  /** One column a pair. */
  volts: Float32Array[];
  amps: Float32Array[];
  watts: Float32Array[];
}

/** An arc with its place in the stream, in samples. */
export interface WatchedArc {
  start: SampleIndex;
  end: SampleIndex;
  arc: Arc;
  /** Where the machine hangs, by this arc's currents and the voltages before it. */
  hangs: Hanging;
  /** The supply as this arc was judged by it, one entry a loop of the machine. */
  supply: SupplyEvidence;
  /** The same as people are told it, one entry a pair; null where it was refused. */
  estimates: (Supply | null)[];
}

/** What a watch tells, as it happens. Every call is synchronous and in stream order. */
export interface WatchEvents {
  rows?(batch: RowBatch): void;
  arcBegan?(start: SampleIndex): void;
  /**
   * The arc so far, judged provisionally, every 200 ms: a weak weld shows while it burns. Before
   * the first 200 ms are over only where the lowest half cycle is under the limit already.
   */
  arcGoesOn?(arc: WatchedArc): void;
  arcEnded?(arc: WatchedArc): void;
  sag?(sag: Sag): void;
  /** Something else switched; seen some cycles, or an arc's end, after it did. */
  otherLoad?(event: OtherLoad, at: SampleIndex): void;
}
