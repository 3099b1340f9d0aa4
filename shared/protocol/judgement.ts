import type { Service } from './service.ts';

/**
 * What a judgement says, one shape for `judge --json`, HTTP, the live feed and the store. SI units;
 * times in seconds from the first sample; volts and amperes true r.m.s.; `null` where unknown.
 */
export type Verdict = 'adequate' | 'marginal' | 'unproven' | 'underpowered' | 'unsuited';

/**
 * Where the voltages of a judgement are told of: at the machine's terminals, at the outlet with
 * what comes after it unknown, or `unstated`: at the sensor, wherever that is.
 */
export type Place = 'machine' | 'outlet' | 'unstated';

/** One sentence by its name, with its figures. */
export interface Phrase {
  name: string;
  figures: Record<string, unknown>;
}

/** What another language says a text from: a sentence, and those that come after it. */
export interface Saying extends Phrase {
  followedBy?: Phrase[];
}

/** One rule's result. */
export interface Finding {
  rule: string;
  verdict: Verdict;
  /** What was measured or foretold, in `unit`. */
  measured: number | null;
  limit: number | null;
  unit: string;
  /** measured − limit where more is better, limit − measured where less is; negative is bad. */
  margin: number | null;
  /** 95 % interval of `measured`. */
  interval: [number, number] | null;
  /** Published source of the limit, or "common practice, no source". */
  source: string;
  /** The sentence a welder understands. */
  says: string;
  /** Absent from what was stored before sentences had names. */
  saying?: Saying;
  /** The sentence an electrician needs; null where the welder's says it all. */
  electrician: string | null;
  electricianSaying?: Saying;
  /** Where in the stream the finding speaks of, s; null for the whole of it. */
  atS: [number, number] | null;
  /** True when the rule is one that holds the verdict down (DEVELOPERS.md, "Verdicts"). */
  required: boolean;
}

/** Figures of one voltage and one current over one arc. */
export interface ArcChannel {
  /** Mean before the arc with the machine idle. */
  idleVolts: number | null;
  /** The same of the current; absent from what was stored before it was kept. */
  idleAmps?: number | null;
  meanVolts: number;
  /** Lowest r.m.s. over any 200 ms inside the arc. */
  minVolts200ms: number;
  /** Highest of the same; absent from what was stored before it was kept. */
  maxVolts200ms?: number;
  minVoltsHalfCycle: number;
  meanAmps: number;
  maxAmps200ms: number;
  meanWatts: number;
  powerFactor: number | null;
  thdVoltsPercent: number | null;
  thdAmpsPercent: number | null;
}

export interface Arc {
  startS: number;
  endS: number;
  durationS: number;
  /** One entry a measured pair. */
  channels: ArcChannel[];
  /**
   * The same between two of them: of two pairs v1 − v2 with (i1 − i2)/2, of three v1 − v2, v2 − v3,
   * v3 − v1 with the differences of their currents. Absent for one pair, and from what was stored
   * before it was measured; distortion is told of pairs alone.
   */
  between?: ArcChannel[];
  /** What the machine hangs between, as entries of `channels`, then `between`; absent as those. */
  loops?: number[];
  /** Share of the arc's samples that were lost on the way, 0 … 1. */
  lostFraction: number;
  /** Absent from what was stored before places were told. */
  place?: Place;
  verdict: Verdict;
  findings: Finding[];
}

export interface Sag {
  startS: number;
  durationS: number;
  residualVolts: number;
  depthPercent: number;
  /** IEEE 1159 category, or null where the sag is none of them. */
  category: string | null;
  /** 1-based pair that fell lowest, or the first of the two that it fell between. */
  channel: number;
  /** 1-based pairs between which it was seen; absent where it was seen on one pair. */
  between?: [number, number];
}

/** The voltage over 110 % of nominal. */
export interface Swell {
  startS: number;
  durationS: number;
  /** Highest r.m.s. of one cycle. */
  highestVolts: number;
  percentOver: number;
  /** IEEE 1159 category, or null where the swell is none of them. */
  category: string | null;
  /** 1-based pair that rose highest, or the first of the two that it rose between. */
  channel: number;
  /** 1-based pairs between which it was seen; absent where it was seen on one pair. */
  between?: [number, number];
}

export interface Supply {
  openVolts: number;
  ohmsR: number;
  ohmsX: number;
  ohmsR95: [number, number];
  ohmsX95: [number, number];
  /** Current steps that the estimate stands on. */
  steps: number;
}

/** A step of the voltage that the sensor's own current does not explain. */
export interface OtherLoad {
  atS: number;
  /** 1-based pair that saw it. */
  channel: number;
  /** Change of the open-circuit voltage; negative when a load came on. */
  volts: number;
  halfWidthVolts: number;
  /** The current that would make it at this outlet; null while the supply is not known. */
  amps: number | null;
  halfWidthAmps: number | null;
  duringArc: boolean;
}

/** One pair over all samples of a recording, direct component and all. */
export interface WholeFigures {
  volts: number;
  amps: number;
  watts: number;
  powerFactor: number | null;
}

/** One pair's flicker after IEC 61000-4-15: the highest of the whole ten-minute periods. */
export interface Flicker {
  pst: number;
  /** Over two hours; null where no two hours are whole. */
  plt: number | null;
  /** Whole ten-minute periods of the clock that it stands on. */
  periods: number;
}

/** What facilities ask of a supply; null where no period of the clock is whole. */
export interface QualityFigures {
  /** One entry a pair. The first whole period begins when the meter has settled, after 11 s. */
  flicker: (Flicker | null)[];
  /** Of three voltages, the highest of the ten-minute values; percent of the positive sequence. */
  unbalance: { u2Percent: number; u0Percent: number; periods: number } | null;
  /** Over whole ten seconds without a dip, swell or interruption. */
  frequency10s: { lowestHertz: number; highestHertz: number; periods: number } | null;
}

export interface Judgement extends Partial<QualityFigures> {
  schema: 'stiffline.judgement/1';
  recording: {
    format: string;
    rateHz: number;
    pairs: number;
    durationS: number;
    /** RFC 3339 UTC, or null where the recording does not say. */
    startedAt: string | null;
  };
  nominal: { volts: number | null; hertz: number | null };
  frequencyHz: number | null;
  /** One entry a pair. */
  whole: WholeFigures[];
  arcs: Arc[];
  sags: Sag[];
  swells: Swell[];
  duty: { windowS: 600; highestFraction: number | null; measuredI1effAmps: number | null };
  supply: (Supply | null)[];
  /** How the wires are fed, by magnitudes and angles; null where no voltage was alive. */
  service: Service | null;
  machine: { behaviour: 'constant-power' | 'constant-impedance' | 'unknown' };
  findings: Finding[];
  place: Place;
  verdict: Verdict;
  cautions: string[];
}
