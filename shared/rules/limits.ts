/** A figure that a rule holds something against, with where it stands. */
export interface Limit {
  readonly value: number;
  readonly unit: string;
  /** Published source, "from memory" where it was not checked, or "common practice, no source". */
  readonly source: string;
}

export const commonPractice = 'common practice, no source';
const plateTolerance = 'IEC 60974-1, clause 10 (from memory): rated supply voltage ±10 %';
const dropNote =
  'NEC 210.19(A)(1) informational note 4, after UFC 3-520-01, 6-2.8: advice, not enforceable';
const welderTable = 'NEC 630.11(A), 2008 text; unchanged to 2023 (from memory)';
const arcDip = 'IEC 61000-4-30, clause 5.4 (from memory): dip threshold 90 % of declared voltage';
const arcSwell = 'IEC 61000-4-30, clause 5.4 (from memory): swell threshold 110 % of declared';

const crestRun = "run length of an unclipped sine's crest, worked out here";
const takesPower = 'a load takes power (physics); where its angle ends is common practice';

/** Every limit of the rules, in one place. Fractions are parts of one. */
export const limits = {
  /** Lowest and highest part of U1 at which a power source must still work. */
  plateLow: { value: 0.9, unit: '1', source: plateTolerance },
  plateHigh: { value: 1.1, unit: '1', source: plateTolerance },
  sag: { value: 0.9, unit: '1', source: arcDip },
  swell: { value: 1.1, unit: '1', source: arcSwell },
  dropBranch: { value: 0.03, unit: '1', source: dropNote },
  dropTotal: { value: 0.05, unit: '1', source: dropNote },
  /** Breaker over the welder's I1max, and over the conductors' ampacity. */
  breakerOverWelder: { value: 2, unit: '1', source: 'NEC 630.12(A), 2008 text' },
  breakerOverConductor: { value: 2, unit: '1', source: 'NEC 630.12(B), 2008 text' },
  /** What must not trip a breaker, over its rating; the other points stand in breaker.ts. */
  breakerUl: {
    value: 1,
    unit: '1',
    source: 'UL 489 calibration tests: 100, 135 and 200 % of the rating (times partly from memory)',
  },
  breakerIec: {
    value: 1.13,
    unit: '1',
    source: 'IEC 60898-1: 1.13, 1.45 and 2.55 times the rating; types B, C and D',
  },
  breakerIndustrial: {
    value: 1.05,
    unit: '1',
    source: 'IEC 60947-2: 1.05 and 1.30 times the rating',
  },
  smallConductor: {
    value: 1,
    unit: '1',
    source: 'NEC 240.4(D); 240.4(G) sends the conductors of welders to article 630 (memory)',
  },
  receptaclePair: {
    value: 1,
    unit: '1',
    source: 'NEC table 210.21(B)(3); 210.21(B)(1), exception 2, for arc welders',
  },
  ampacityByDuty: { value: 1, unit: '1', source: `${welderTable}; NEC table 310.16, 2023` },
  ampacityFull: {
    value: 1,
    unit: '1',
    source: '29 CFR 1910.254(c)(3)(ii) (from memory): ampacity not under rated primary current',
  },
  /** Over a feeder's group of machines, by their effective currents. */
  groupAmps: {
    value: 1,
    unit: '1',
    source:
      'NEC 630.11(B), 2008 text: all of the two largest, 85 % of the third, 70 % of the fourth, ' +
      '60 % of the rest; NEC table 310.16, 2023',
  },
  groupFull: {
    value: 1,
    unit: '1',
    source:
      '29 CFR 1910.254(c)(3)(ii) for every machine, added; (iii) lets a group have less (memory)',
  },
  dropFeeder: {
    value: 0.03,
    unit: '1',
    source: 'NEC 215.2(A)(1) informational note 2, after UFC 3-520-01, 6-2.8: advice',
  },
  /** Part of a feeder's machines that burn at once, where nobody said; two at the least. */
  atOnce: { value: 1 / 2, unit: '1', source: commonPractice },
  receptacle: {
    value: 1,
    unit: '1',
    source: "NEC 210.21(B)(1), exception 2: not under the conductors' least ampacity of 630.11(A)",
  },
  ampacityMetric: {
    value: 1,
    unit: '1',
    source: 'IEC 60364-5-52, tables B.52.2 to B.52.5 (partly from memory)',
  },
  cordAmpacity: {
    value: 1,
    unit: '1',
    source: 'NEC table 400.5(A)(1): 18 to 12 AWG after UL text, the rest from memory',
  },
  cordAmpacityMetric: {
    value: 1,
    unit: '1',
    source: 'BS 7671:2008, 60 °C rubber, from 4 mm²; thinner: IEC 60364-5-52 (from memory)',
  },
  /** Part of its rated power that a machine of constant impedance gives at U1 − 10 %. */
  outputAtLow: {
    value: 0.81,
    unit: '1',
    source: 'IEC 60974-1, clause 10 (from memory): at U1 ± 10 % it must work; output by V²',
  },
  jobOutput: { value: 1, unit: '1', source: 'the least output that the shop typed in for the job' },
  duty: {
    value: 1,
    unit: '1',
    source: 'IEC 60974-1: duty cycle over 10 minutes; I²·X constant between rated points (memory)',
  },
  effectiveAmps: { value: 1, unit: '1', source: 'IEC 60974-1: I1eff of the rating plate' },
  /** Part of the plate's full current that a step must reach before it can vouch for all of it. */
  provenShare: { value: 1 / 4, unit: '1', source: commonPractice },
  /** Part of I1max at which a generator must have been seen: it foretells nothing. */
  generatorShare: { value: 0.9, unit: '1', source: commonPractice },
  /** Full-load heat adds to a wire's resistance what a tack does not show: 50 K of copper. */
  warmWire: { value: 0.2, unit: '1', source: 'copper 0.39 % a kelvin (from memory), 50 K' },
  /** A generator's kVA over U1·I1max. */
  generatorSize: {
    value: 1.35,
    unit: '1',
    source: 'instruction books of welding machines, supply chapter: 1.35 times the largest kVA',
  },
  /** Heat in one contact at which glowing was seen. */
  contactWatts: {
    value: 5,
    unit: 'W',
    source: 'NBSIR 76-1011: glowing contacts gave 5 W at 0.8 A and 35 W at 15 A',
  },
  /** Part of an arc's samples that may be lost before it proves nothing. */
  lostShare: { value: 0.02, unit: '1', source: commonPractice },
  classNear: { value: 0.05, unit: '1', source: commonPractice },
  classFar: { value: 0.1, unit: '1', source: plateTolerance },
  /**
   * Part of U1 under which a supply is of another class: the highest voltage of its own band lies
   * under the lowest of the plate's.
   */
  classOther: {
    value: 0.9 / 1.1,
    unit: '1',
    source:
      'both classes ±10 %, after IEC 60974-1, clause 10 (from memory); do not touch: ' +
      commonPractice,
  },
  legShift: {
    value: 0.05,
    unit: '1',
    source: 'ANSI C84.1 range A ±5 % (from memory); what it means on two legs: common practice',
  },
  /** Range of a leg to neutral, with both together still what a split phase is. */
  legLow: { value: 104, unit: 'V', source: 'ANSI C84.1 range B (from memory): 104 to 127 V' },
  legHigh: { value: 127, unit: 'V', source: 'ANSI C84.1 range B (from memory): 104 to 127 V' },
  splitWhole: { value: 240, unit: 'V', source: 'ANSI C84.1 (from memory): 120/240 V' },
  sumHeld: { value: 0.02, unit: '1', source: commonPractice },
  /** Correlation of two legs' steps, and how many opposed steps, that speak of the neutral. */
  swing: { value: -0.8, unit: '1', source: commonPractice },
  swingSteps: { value: 3, unit: '', source: commonPractice },
  /** How far a leg of 208Y/120 may be from its 120 V; 127 V and more may be another service. */
  wyeLeg: { value: 0.1, unit: '1', source: commonPractice },
  /** Highest voltage of an outlet or a machine of the 120 V class. */
  smallVolts: { value: 127, unit: 'V', source: commonPractice },
  /** More to neutral than this where 120 V is meant: the high leg has 208 V. */
  wildLeg: { value: 150, unit: 'V', source: commonPractice },
  /** Half way to 240 V, which is no leg of a delta but another class of supply. */
  wildLegMost: { value: 224, unit: 'V', source: commonPractice },
  unbalance: {
    value: 0.03,
    unit: '1',
    source: 'ANSI C84.1, annex (from memory): 3 % at no load; NEMA MG 1: most off the mean',
  },
  /** A phase under this part of the highest one is taken for missing. */
  missingPhase: { value: 0.5, unit: '1', source: commonPractice },
  distortion: {
    value: 8,
    unit: '%',
    source: 'IEEE 519 and EN 50160 (both from memory): total distortion of low voltage, 8 %',
  },
  /** Eight per cent under the √2 of a sine: a capacitor-input machine alone takes four at a good
   * outlet. */
  crest: { value: 1.3, unit: '', source: commonPractice },
  couponBand: { value: 1, unit: 'W', source: "the shop's own passed coupons" },
  frequency: {
    value: 0.01,
    unit: '1',
    source: 'EN 50160 (from memory): ±1 % on an interconnected network; a generator strays',
  },
  /**
   * A step of the voltage, part of it, that a building or its utility makes by itself: a
   * regulator's tap is 5/8 % (IEEE C57.15, from memory), and 40 A behind a service of 50 mΩ at
   * 240 V are 0.8 %.
   */
  buildingStep: {
    value: 0.01,
    unit: '1',
    source: "common practice, no source; a utility regulator's tap is 5/8 % (from memory)",
  },
  /** The same while a motor starts. */
  buildingSurge: {
    value: 0.04,
    unit: '1',
    source: 'IEC 61000-3-3 (from memory): 4 % at most as equipment switches on',
  },
  machineClass: { value: 200, unit: 'V', source: commonPractice },
  /** Crests cut off at one level, both sides counted: more than one cycle has. */
  clippedCrests: { value: 3, unit: '', source: crestRun },
  /** A value that stands still, or a current with no voltage, for more than two cycles of 50 Hz. */
  heldSamples: { value: 0.04, unit: 's', source: commonPractice },
  /** 200 ms of current over I1max; over I1max for a second; over the breaker's rating. */
  overPlate: { value: 1.5, unit: '1', source: commonPractice },
  overPlateLasting: { value: 1.25, unit: '1', source: commonPractice },
  overBreaker: { value: 4, unit: '1', source: commonPractice },
  /** Current behind its voltage: a load's, one leg's of several, and one that was turned round. */
  currentAngle: { value: 75, unit: '°', source: takesPower },
  legAngle: { value: 110, unit: '°', source: takesPower },
  reversedAngle: { value: 160, unit: '°', source: takesPower },
  reversedAngleMost: { value: 230, unit: '°', source: takesPower },
  /** Between them lie all low-voltage services, 100 V − 10 % to 690 V + 10 %. */
  noClass: { value: 80, unit: 'V', source: 'IEC 60038 (from memory): 100 V to 690 V, ±10 %' },
  noClassHigh: { value: 760, unit: 'V', source: 'IEC 60038 (from memory): 100 V to 690 V, ±10 %' },
  /** Mean over crest of a voltage, and of a current; one half of a current over the other. */
  offset: { value: 0.05, unit: '1', source: commonPractice },
  lopsided: { value: 0.25, unit: '1', source: commonPractice },
} as const satisfies Record<string, Limit>;

const halfWay = 'half way between the angles that there are: our choice';

/** Where one arrangement of a supply ends and the next begins. */
export const arrangementLimits = {
  /** Angles between two hot legs: 0°, 60° corner-grounded, 90° high leg, 120° wye, 180° split. */
  sameDegrees: { value: 30, unit: '°', source: halfWay },
  highLegDegrees: { value: 75, unit: '°', source: halfWay },
  wyeDegrees: { value: 105, unit: '°', source: halfWay },
  splitDegrees: { value: 150, unit: '°', source: halfWay },
  /** Lower over higher of two legs that are alike: loads and taps part them by less. */
  alike: { value: 0.8, unit: '1', source: commonPractice },
  /** Higher over lower where one is the high leg, √3: half way to 1, and as far beyond. */
  highLegLeast: { value: 1.37, unit: '1', source: halfWay },
  highLegMost: { value: 2.1, unit: '1', source: halfWay },
  /** A leg under this part of the other is dead. */
  dead: { value: 0.1, unit: '1', source: commonPractice },
  /** Least line-to-ground voltage of a corner-grounded delta that is built: 200 V and more. */
  cornerVolts: { value: 180, unit: 'V', source: commonPractice },
  /** How far a supply may be from its nominal voltage and still be of its class. */
  near: { value: 0.1, unit: '1', source: commonPractice },
  /**
   * Least of three line-to-line voltages over the greatest: 1 where all phases are there, 0.58 and
   * less where one is dead, 0 where two are one.
   */
  whole: { value: 0.79, unit: '1', source: halfWay },
  twice: { value: 0.25, unit: '1', source: halfWay },
} as const satisfies Record<string, Limit>;

/** What tells where a machine hangs. */
export const loopLimits = {
  /** Logarithm of a ratio up to which two voltages may be one class. */
  sameVolts: { value: 0.1, unit: '1', source: commonPractice },
  /** Part of the loaded line's square of current up to which another counts as idle. */
  idleShare: { value: 0.1, unit: '1', source: commonPractice },
  /**
   * Voltages from line to line add up to nothing at every moment; those to neutral to what they
   * have in common. More than this part of one is no sensor's error.
   */
  lineSum: { value: 0.02, unit: '1', source: commonPractice },
  /**
   * Between a line's current and the voltage to the next line lie 30° more, or less, than the
   * load's own angle, and a load of rectifiers lags by 0° to 20° (from memory).
   */
  leads: { value: -8, unit: '°', source: commonPractice },
  lags: { value: 20, unit: '°', source: commonPractice },
  /** Least current that tells: the arc detector's own. */
  leastAmps: { value: 2, unit: 'A', source: commonPractice },
} as const satisfies Record<string, Limit>;

/** A part of a voltage as a limit in volts, without the crumbs of binary fractions. */
export const inVolts = (limit: Limit, of: number): Limit => ({
  value: Math.round(limit.value * of * 1e6) / 1e6,
  unit: 'V',
  source: limit.source,
});
