import type { Circuit } from '../protocol/circuit.ts';
import type { ArcChannel, Finding, Judgement, Place } from '../protocol/judgement.ts';
import type { Plate, PlateSupply } from '../protocol/plate.ts';
import type { Amperes, Fraction, Hertz, Ohms, Seconds, Volts, Watts } from '../units.ts';
import type { ServiceSeen } from './arrangement.ts';
import type { Limit } from './limits.ts';
import type { Said } from './say.ts';

export type RuleId =
  | 'plate-voltage'
  | 'strike-voltage'
  | 'full-load'
  | 'connection'
  | 'voltage-class'
  | 'phases'
  | 'other-load'
  | 'sag'
  | 'drop'
  | 'supply-amps'
  | 'cord'
  | 'feeder'
  | 'duty'
  | 'waveform'
  | 'output'
  | 'heat'
  | 'sensor';

/** A rule: what it asks, what it holds that against, and the asking, pure data to data. */
export interface Rule<Asked> {
  readonly id: RuleId;
  readonly asks: string;
  /** When its answer holds the verdict down. */
  readonly required:
    | 'always'
    | 'when it fires'
    | 'on a dedicated circuit'
    | 'where the job names a least output'
    | 'of its feeder'
    | 'when it doubts'
    | 'never';
  readonly limits: readonly Limit[];
  ask(asked: Asked): Finding[];
}

/** What stays the same over a recording: machine, circuit, supply class, measuring accuracy. */
export interface Setting {
  plate: Plate | null;
  /** The plate's line that applies to this supply. */
  rated: PlateSupply | null;
  circuit: Circuit | null;
  pairs: number;
  /**
   * What the machine hangs between, as entries of a row: measured pairs come first, after them what
   * lies between two (`metrology/line-to-line.ts`). A loop's volts are those at the terminals.
   */
  loops: readonly number[];
  /** Amperes of a loop over those of a line, which the plate names: √3 in three phases. */
  ampsPerLine: number;
  /** Where the voltages are told of; left out of what was described or worked out. */
  place?: Place;
  /** How the wires are fed; null where nobody has measured. */
  service: ServiceSeen | null;
  /** Between the machine's supply terminals. */
  nominalVolts: Volts | null;
  nominalHertz: 50 | 60 | null;
  accuracy: Accuracy;
  work: Work | null;
  /** Supply power of the coupons that passed, lowest and highest, where known. */
  coupon?: CouponBand | null;
  /** Why no band is given, where somebody set a machine up here: said as advice. */
  couponNote?: Said | null;
}

export interface CouponBand {
  watts: readonly [Watts, Watts];
}

/** 95 % half-widths of a reading, parts of it. */
export interface Accuracy {
  volts: Fraction;
  halfCycleVolts: Fraction;
  amps: Fraction;
}

/** What is to be welded, where somebody said. */
export interface Work {
  process: 'mig-steel' | 'mig-aluminium' | 'mig-braze';
  wireInches: number | null;
  pulse: boolean;
  /** What the vehicle maker's procedure asks of the machine, as the shop typed it in. */
  asked?: { machineVolts: Volts; reference: string } | null;
  /** Least that the machine must give here, part of its rated output, as the shop typed it in. */
  leastOutput?: Fraction | null;
  /** The same as welding current, I2. */
  leastWeldAmps?: Amperes | null;
}

/** One loop's lowest Urms(1/2) in the first 200 ms of an arc, with the loop's current then. */
export interface Strike {
  minVoltsHalfCycle: Volts;
  amps: Amperes;
  watts: Watts;
}

export interface ArcEvidence {
  startS: Seconds;
  endS: Seconds;
  lostFraction: Fraction;
  /** One entry a measured pair. */
  channels: readonly ArcChannel[];
  /** One entry a loop of the machine: what it had between its terminals. */
  loops: readonly ArcChannel[];
  /** One entry a loop; null where its start was not seen. */
  strike: readonly (Strike | null)[];
  /** Of a generator: what the arc settled at, once its regulator had done its work. */
  settled?: readonly Settled[] | null;
}

export interface Settled {
  volts: Volts;
  amps: Amperes;
}

/** A supply as one loop sees it; a measured estimate fits as it is. */
export interface SupplyView {
  openVolts: Volts;
  openVoltsSd: Volts;
  /** The lowest that it was beside the last ten minutes' arcs; `openVolts` where left out. */
  openVoltsLow?: Volts;
  ohmsR: Ohms;
  ohmsX: Ohms;
  varianceR: number;
  varianceX: number;
  covarianceRX: number;
  coverage: number;
  /** Largest step that it stands on, fundamental r.m.s.; null for a described supply. */
  largestStepAmps: Amperes | null;
  /** Steps that it stands on; null for a described supply. */
  steps: number | null;
  lagRadians: number;
  fundamentalShare: Fraction;
}

export interface SupplyEvidence {
  /** One entry a loop of the machine; null where the estimate was refused. */
  pairs: readonly (SupplyView | null)[];
  /** Time at loads that can prove full load (`leastEvidence`), one entry a loop. */
  loaded?: readonly Seconds[];
  behaviour: Judgement['machine']['behaviour'];
  /** Why an entry of `pairs` is null, one entry a pair. */
  refused?: readonly (Refused | null)[];
  /** Lowest volts that were measured at each current, one list a pair. */
  measured?: readonly (readonly Settled[])[];
  connection?: ConnectionEvidence | null;
  generator?: GeneratorEvidence | null;
}

/** A code with figures; codes are those of `metrology/supply-refusal.ts`. */
export interface Refused {
  code: string;
  params: Readonly<Record<string, number>>;
}

/** Ohms that changed between the source and the sensor, between arcs or within them. */
export interface ConnectionEvidence {
  kind: 'grown' | 'heats' | 'wanders';
  ohmsBefore: Ohms;
  ohmsAfter: Ohms;
  /** 95 % interval of what was added. */
  added95: readonly [Ohms, Ohms];
  amps: Amperes;
  sinceS: Seconds;
  /** False while one arc's start is all that shows it: a neighbour may have come with the arc. */
  confirmed: boolean;
}

/** A source whose frequency moves with the load. */
export interface GeneratorEvidence {
  hertzIdle: Hertz;
  hertzLow: Hertz;
  hertzHigh: Hertz;
  dip: Fraction;
  /** What the newest arc settled at, one entry a pair; null while that is not known. */
  settled: readonly Settled[] | null;
}

export interface DutyEvidence {
  /** Null where the stream is shorter than the ten minutes. */
  highestFraction: Fraction | null;
  effectiveAmps: Amperes | null;
  atS: [Seconds, Seconds] | null;
}

/** Swells seen, whoever caused them. */
export interface SwellEvidence {
  count: number;
  worst: {
    startS: Seconds;
    durationS: Seconds;
    highestVolts: Volts;
    referenceVolts: Volts;
    category: string | null;
    duringArc: boolean;
  } | null;
}

/** Dips seen, whoever caused them. */
export interface SagEvidence {
  count: number;
  worst: {
    startS: Seconds;
    durationS: Seconds;
    residualVolts: Volts;
    referenceVolts: Volts;
    category: string | null;
    duringArc: boolean;
  } | null;
  /** Dips that came with a surge of own current, and no arc after them. */
  strikes: { count: number; worst: (Strike & { atS: Seconds }) | null };
  /** Left out or null: the supply was never lost under a load. */
  lost?: SupplyLost | null;
  /** Left out: nobody looked. */
  swells?: SwellEvidence;
}

/** Times that the voltage vanished with current just before, and the newest of them. */
export interface SupplyLost {
  count: number;
  /** R.m.s. of the load from its start, line amperes, and how long it had lasted. */
  last: { atS: Seconds; amps: Amperes; afterS: Seconds };
}

/** A step of the open-circuit voltage, which own current cannot make. */
export interface OtherStep {
  atS: Seconds;
  /** What is left of it seconds later, negative for a fall, and its 95 % half-width. */
  volts: Volts;
  halfWidthVolts: Volts;
  /** How far it went at first: a motor that starts takes several times what it runs at. */
  surgeVolts: Volts;
  /** False where nothing is left of it: a dip that recovered. */
  stays: boolean;
  /** The open-circuit voltage before it. */
  openVolts: Volts;
  /** |Z| of the supply at the sensor; null while it is not known. */
  ohms: Ohms | null;
}

/** Steps of voltage that own current does not explain. */
export interface OtherLoadEvidence {
  /** Those that something is left of. */
  count: number;
  /** The largest by what the rule asks. */
  worst: OtherStep | null;
  /** False where no estimate stood behind the search. */
  searched: boolean;
}

/** How two legs move without an arc, from one 200 ms value to the next. */
export interface LegSwing {
  /** Steps in which one rose and the other fell, each by more than a healthy neutral gives. */
  steps: number;
  /** The largest of them, by the leg that moved less. */
  volts: Volts;
  /** Of all larger steps of either leg: −1 where one always falls as the other rises. */
  correlation: number;
}

/** R.m.s. at the moment of greatest imbalance, over 200 ms or longer. */
export interface PhaseEvidence {
  /** One entry a measured pair. */
  volts: readonly Volts[];
  /** Between pairs 1 and 2, of three 2 and 3, 3 and 1. */
  between: readonly Volts[];
  atS: Seconds;
  /** Of two legs over the whole stream so far; left out of one pair and of three. */
  swing?: LegSwing;
}

export interface WaveformEvidence {
  hertzLow: Hertz | null;
  hertzHigh: Hertz | null;
  thdVoltsPercent: number | null;
  /** Lowest crest factor of the voltage: √2 for a sine, less where the top is flat. */
  crest: number | null;
}

/** What the samples of one channel say of the sensor that took them. */
export interface SensorChannel {
  /** Crests that stood at one extreme for longer than an unclipped one can. */
  clipped: number;
  /** Longest stretch of one repeated value between crest and rest, s. */
  heldSeconds: Seconds;
  /** Longest stretch of one value away from rest, s, and the value. */
  stillSeconds: Seconds;
  stillAt: number;
  /** Mean over amplitude, of the stream so far. */
  offsetShare: Fraction;
}

/** Voltage and current of one pair, beside each other. */
export interface SensorPair {
  volts: SensorChannel;
  amps: SensorChannel;
  /** Fundamental active and reactive power while arcs burned, sums: their angle is what counts. */
  watts: Watts;
  vars: number;
  /** How far its current's positive and negative halves lie apart, a part of both; null: no arc. */
  lopsided: Fraction | null;
  /** Longest stretch of current with no voltage at all beside it, s. */
  deadSeconds: Seconds;
}

/** What speaks against the sensor itself, since the arc before this one or over a whole stream. */
export interface SensorEvidence {
  pairs: readonly SensorPair[];
  /** Two channels that hold the same samples, counted v1, i1, v2, … from 0; null: none do. */
  same: readonly [number, number] | null;
}
