import { assert } from '../../shared/assert.ts';
import { sliceS } from './clockwork.ts';

export type Metal = 'copper' | 'aluminium';
export type Awg = number | '1/0' | '2/0' | '3/0' | '4/0';
/** One-way length of a conductor with its return beside it. */
export interface WireSpec {
  awg?: Awg;
  mm2?: number;
  metal?: Metal;
  feet?: number;
  metres?: number;
}

interface GaugeRow {
  /** Stranded, uncoated, direct current at 75 °C, ohm per 1000 ft. */
  copper: number;
  aluminium: number | null;
  /** Reactance at 60 Hz, three singles in a plastic conduit, ohm per 1000 ft. */
  reactance: number;
  circularMils: number;
  /** Ampacity in a raceway, 75 °C column; as a two-conductor flexible cord. */
  ampacity: number;
  cordAmpacity: number;
}

const row = (
  copper: number,
  aluminium: number | null,
  reactance: number,
  circularMils: number,
  ampacity: number,
  cordAmpacity: number,
): GaugeRow => ({ copper, aluminium, reactance, circularMils, ampacity, cordAmpacity });

/**
 * NEC chapter 9 table 8 (resistance, section), table 9 (reactance), 310.16 and 400.5(A)(1)
 * (ampacity). Aluminium strands, 18 AWG, cords above 12 AWG and sizes above 1/0 are from memory;
 * table 9 has no reactance under 14 AWG, where 0.06 stands; cords above 2 AWG repeat the raceway.
 */
const gauges: Record<string, GaugeRow> = {
  18: row(7.95, null, 0.06, 1_620, 7, 10),
  16: row(4.99, null, 0.06, 2_580, 10, 13),
  14: row(3.14, 5.17, 0.058, 4_110, 20, 18),
  12: row(1.98, 3.25, 0.054, 6_530, 25, 25),
  10: row(1.24, 2.04, 0.05, 10_380, 35, 30),
  8: row(0.778, 1.28, 0.052, 16_510, 50, 40),
  6: row(0.491, 0.808, 0.051, 26_240, 65, 55),
  4: row(0.308, 0.508, 0.048, 41_740, 85, 70),
  3: row(0.245, 0.403, 0.047, 52_620, 100, 80),
  2: row(0.194, 0.319, 0.045, 66_360, 115, 95),
  1: row(0.154, 0.253, 0.046, 83_690, 130, 130),
  '1/0': row(0.122, 0.201, 0.044, 105_600, 150, 150),
  '2/0': row(0.0967, 0.159, 0.043, 133_100, 175, 175),
  '3/0': row(0.0766, 0.126, 0.042, 167_800, 200, 200),
  '4/0': row(0.0608, 0.1, 0.041, 211_600, 230, 230),
};

/** IEC 60228 greatest resistance at 20 °C, ohm per km, plain copper (from memory). */
const fixed: Record<string, number> = {
  '1.5': 12.1,
  '2.5': 7.41,
  '4': 4.61,
  '6': 3.08,
  '10': 1.83,
  '16': 1.15,
  '25': 0.727,
  '35': 0.524,
};
const flexible: Record<string, number> = {
  '1.5': 13.3,
  '2.5': 7.98,
  '4': 4.95,
  '6': 3.3,
  '10': 1.91,
  '16': 1.21,
  '25': 0.78,
  '35': 0.554,
};

const metresPerFoot = 0.3048;
const mm2PerCircularMil = 5.067075e-4;
/** Two conductors under one sheath lie closer than singles in a conduit (from memory, medium). */
const cordReactance = 0.035;
/** NEC chapter 9 table 8, note: change of resistance a kelvin at 75 °C. */
const alpha75: Record<Metal, number> = { copper: 0.00323, aluminium: 0.0033 };
/** Resistance vanishes, extrapolated, at minus this temperature; from α20 = 0.00393 /K. */
const zeroOhmC: Record<Metal, number> = { copper: 234.5, aluminium: 228.1 };
const aluminiumOverCopper = 1.64;

/** A wire's figures, one conductor, one way. */
export class Wire {
  readonly kilofeet: number;
  readonly metal: Metal;
  readonly squareMm: number;
  readonly ampacity: number;
  /** Kelvin that the conductor warms by at its ampacity, and how slowly, s. */
  readonly rise: number;
  readonly tau: number;
  /** Reactance at 60 Hz, ohm. */
  readonly ohmsX60: number;
  private readonly reference: number;
  private readonly referenceC: number;
  private warm = 0;

  constructor(spec: WireSpec, use: 'fixed' | 'cord') {
    this.metal = spec.metal ?? 'copper';
    this.kilofeet = (spec.feet ?? (spec.metres ?? 0) / metresPerFoot) / 1000;
    const gauge = spec.awg === undefined ? undefined : gauges[spec.awg];
    assert(gauge || spec.mm2, 'a wire has a gauge that the table knows, or a section');
    this.squareMm = gauge ? gauge.circularMils * mm2PerCircularMil : spec.mm2!;
    const perKft = gauge && (this.metal === 'copper' ? gauge.copper : gauge.aluminium);
    this.referenceC = perKft ? 75 : 20;
    this.reference = this.kilofeet * (perKft ?? metricPerKft(this.squareMm, this.metal, use));
    const nearest = gauge ?? nearestGauge(this.squareMm);
    this.ampacity = use === 'cord' ? nearest.cordAmpacity : nearest.ampacity;
    this.rise = use === 'cord' ? 30 : 45;
    // Estimate: two minutes for 2 mm², seven for 13 mm²; heat held goes with the section, heat lost
    // with the surface.
    this.tau = 85 * this.squareMm ** 0.65;
    this.ohmsX60 = this.kilofeet * (use === 'cord' ? cordReactance : nearest.reactance);
  }

  /** Ohm at a conductor temperature. */
  ohmsAt(celsius: number): number {
    if (this.referenceC === 75) {
      return this.reference * (1 + alpha75[this.metal] * (celsius - 75));
    }
    const zero = zeroOhmC[this.metal];
    return (this.reference * (zero + celsius)) / (zero + 20);
  }

  /** Warms for one slice under a current squared, and gives the ohms now. */
  warmUp(amps2: number, ambientC: number): number {
    const settled = (this.rise * amps2) / (this.ampacity * this.ampacity);
    this.warm += ((settled - this.warm) * sliceS) / this.tau;
    return this.ohmsAt(ambientC + this.warm);
  }
}

function metricPerKft(mm2: number, metal: Metal, use: 'fixed' | 'cord'): number {
  // Where the standard's table has no such size: 1/58 ohm·mm²/m, and 3 % for the strands' lay.
  const printed = (use === 'cord' ? flexible : fixed)[String(mm2)] ?? (1000 / 58 / mm2) * 1.03;
  return printed * metresPerFoot * (metal === 'copper' ? 1 : aluminiumOverCopper);
}

function nearestGauge(mm2: number): GaugeRow {
  const mils = mm2 / mm2PerCircularMil;
  return Object.values(gauges).reduce((best, each) =>
    Math.abs(each.circularMils - mils) < Math.abs(best.circularMils - mils) ? each : best,
  );
}

export const isGauge = (awg: unknown): awg is Awg =>
  (typeof awg === 'number' || typeof awg === 'string') && String(awg) in gauges;
