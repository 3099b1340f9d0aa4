import type { Amperes, Ohms, Volts } from '../units.ts';

export type Metal = 'copper' | 'aluminium';
/** A conductor's size as circuit files give it. */
export interface Gauge {
  awg?: number | string;
  /** Thousand circular mils: what is thicker than 4/0. */
  kcmil?: number;
  mm2?: number;
}
interface Run extends Gauge {
  metal?: Metal;
  feet?: number;
  metres?: number;
}

/**
 * Ω per 1000 ft, one way, at 75 °C: NEC chapter 9, table 8, stranded, uncoated copper and
 * aluminium. Pages that retype the table often print solid wire's.
 */
const ohmsPerKft: Record<string, readonly [copper: number, aluminium: number | null]> = {
  16: [4.99, null],
  14: [3.14, 5.17],
  12: [1.98, 3.25],
  10: [1.24, 2.04],
  8: [0.778, 1.28],
  6: [0.491, 0.808],
  4: [0.308, 0.508],
  3: [0.245, 0.403],
  2: [0.194, 0.319],
  1: [0.154, 0.253],
  '1/0': [0.122, 0.201],
};
/** mm² to Ω per km of copper at 20 °C: IEC 60228, class 2 fixed, class 5 flexible (from memory). */
const ohmsPerKm = {
  fixed: [
    [1.5, 12.1],
    [2.5, 7.41],
    [4, 4.61],
    [6, 3.08],
    [10, 1.83],
    [16, 1.15],
    [25, 0.727],
    [35, 0.524],
    [50, 0.387],
  ],
  flexible: [
    [1.5, 13.3],
    [2.5, 7.98],
    [4, 4.95],
    [6, 3.3],
    [10, 1.91],
    [16, 1.21],
    [25, 0.78],
    [35, 0.554],
  ],
} as const;

/** Gauges that cords are sold in, thin to thick. */
export const cordGauges = [16, 14, 12, 10, 8, 6] as const;
/** Metric sizes of flexible cords, mm², thin to thick. */
export const metricCordGauges = [1.5, 2.5, 4, 6, 10] as const;
export const metresPerFoot = 0.3048;
/** Resistivity of aluminium over copper, 28.26 over 17.24 nΩ·m. */
export const aluminiumOverCopper = 1.639;

/** Gauge number in which 1/0 is 0 and 4/0 is −3: smaller is thicker. */
export function gaugeNumber(awg: number | string): number {
  const text = String(awg);
  return text.endsWith('/0') ? 1 - Number.parseInt(text, 10) : Number.parseInt(text, 10);
}

/** Cross-section by ASTM B258: d = 0.005 in · 92^((36 − n)/39). */
export function squareMillimetres(gauge: Gauge): number {
  if (gauge.mm2 !== undefined) return gauge.mm2;
  if (gauge.kcmil !== undefined) return gauge.kcmil * 0.5067;
  const millimetres = 0.127 * 92 ** ((36 - gaugeNumber(gauge.awg ?? 14)) / 39);
  return (Math.PI / 4) * millimetres ** 2;
}

export const lengthMetres = (run: Run): number => run.metres ?? (run.feet ?? 0) * metresPerFoot;

/** One conductor, one way: Ω per metre at the metal's temperature (α of table 8, note 2). */
export function ohmsPerMetre(
  gauge: Gauge,
  metal: Metal,
  make: 'fixed' | 'flexible',
  celsius: number,
): number {
  const alpha75 = metal === 'copper' ? 0.00323 : 0.0033;
  const at = 1 + alpha75 * (celsius - 75);
  if (gauge.mm2 === undefined) return (awgOhmsPerKft(gauge, metal) / 1000 / metresPerFoot) * at;
  const copper20 = metricOhmsPerKm(gauge.mm2, ohmsPerKm[make]) / 1000;
  const at20 = 1 + alpha75 * (20 - 75);
  return copper20 * (metal === 'copper' ? 1 : aluminiumOverCopper) * (at / at20);
}

/** The table's figure; between its rows the stranded wire of the gauge's own section. */
function awgOhmsPerKft(gauge: Gauge, metal: Metal): number {
  const row = ohmsPerKft[String(gauge.awg)];
  const listed = metal === 'copper' ? row?.[0] : row?.[1];
  if (listed) return listed;
  // 12 AWG stranded, 1.98 Ω/kft at 3.309 mm², carried over by section.
  const copper = (1.98 * 3.309) / squareMillimetres(gauge);
  return metal === 'copper' ? copper : copper * aluminiumOverCopper;
}

/** Straight in log–log between rows, by section beyond them: falls all the way. */
function metricOhmsPerKm(mm2: number, table: readonly (readonly [number, number])[]): number {
  const above = table.findIndex(([size]) => size >= mm2);
  const [size, ohms] = table[above === -1 ? table.length - 1 : above]!;
  if (above <= 0) return (ohms * size) / mm2;
  const [below, belowOhms] = table[above - 1]!;
  const slope = Math.log(ohms / belowOhms) / Math.log(size / below);
  return belowOhms * (mm2 / below) ** slope;
}

/** One way. */
export function runOhms(run: Run, make: 'fixed' | 'flexible', celsius: number): Ohms {
  const metal = run.metal ?? 'copper';
  return ohmsPerMetre(run, metal, make, celsius) * lengthMetres(run);
}

/** The size alone, as a sentence's figures carry it. */
export const gaugeOf = ({ awg, kcmil, mm2 }: Gauge): Gauge =>
  mm2 !== undefined ? { mm2 } : kcmil !== undefined ? { kcmil } : awg !== undefined ? { awg } : {};

/** The length alone. */
export const runOf = ({ feet, metres }: Run): Pick<Run, 'feet' | 'metres'> =>
  metres !== undefined ? { metres } : feet !== undefined ? { feet } : {};

/** Worst single-phase drop by the book: 2·I·L·R. */
export const loopDrop = (amps: Amperes, oneWayOhms: Ohms): Volts => 2 * amps * oneWayOhms;
