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

/** NEC table 310.16, 2023, 30 °C: 60, 75 and 90 °C columns of copper, then of aluminium. */
const ampacities: readonly (readonly [string, ...number[]])[] = [
  ['14', 15, 20, 25, 0, 0, 0],
  ['12', 20, 25, 30, 15, 20, 25],
  ['10', 30, 35, 40, 25, 30, 35],
  ['8', 40, 50, 55, 35, 40, 45],
  ['6', 55, 65, 75, 40, 50, 55],
  ['4', 70, 85, 95, 55, 65, 75],
  ['3', 85, 100, 115, 65, 75, 85],
  ['2', 95, 115, 130, 75, 90, 100],
  ['1', 110, 130, 145, 85, 100, 115],
  ['1/0', 125, 150, 170, 100, 120, 135],
  ['2/0', 145, 175, 195, 115, 135, 150],
  ['3/0', 165, 200, 225, 130, 155, 175],
  ['4/0', 195, 230, 260, 150, 180, 205],
];
/** NEC table 400.5(A)(1), column B, two current-carrying conductors; over 12 AWG from memory. */
const cordAmpacities: readonly (readonly [string, number])[] = [
  ['18', 10],
  ['17', 12],
  ['16', 13],
  ['14', 18],
  ['12', 25],
  ['10', 30],
  ['8', 40],
  ['6', 55],
  ['4', 70],
  ['2', 95],
];
/** The same table over 4/0, in kcmil. */
const kcmilAmpacities: readonly (readonly [number, ...number[]])[] = [
  [250, 215, 255, 290, 170, 205, 230],
  [350, 260, 310, 350, 210, 250, 280],
  [400, 280, 335, 380, 225, 270, 305],
  [500, 320, 380, 430, 260, 310, 350],
];
/** IEC 60364-5-52, method B2, PVC: two loaded conductors, then three (all from memory). */
const metricAmpacities: readonly (readonly [mm2: number, two: number, three: number])[] = [
  [1.5, 16.5, 15],
  [2.5, 23, 20],
  [4, 30, 27],
  [6, 38, 34],
  [10, 52, 46],
  [16, 69, 62],
  [25, 90, 80],
  [35, 111, 99],
  [50, 133, 118],
  [70, 168, 149],
  [95, 201, 179],
  [120, 232, 206],
];

/** Gauges that cords are sold in, thin to thick. */
export const cordGauges = [16, 14, 12, 10, 8, 6] as const;
/** Metric sizes of flexible cords, mm², thin to thick. */
export const metricCordGauges = [1.5, 2.5, 4, 6, 10] as const;
export const metresPerFoot = 0.3048;
/** Resistivity of aluminium over copper, 28.26 over 17.24 nΩ·m. */
const aluminiumOverCopper = 1.639;

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

/** Fixed conductors: 60 °C column unless said; 0 where the size is none for building wire. */
export function branchAmpacity(run: Run, column: 60 | 75 | 90 = 60): Amperes {
  if (run.mm2 !== undefined) return metricAmpacity(run, 2);
  const place = 1 + (column - 60) / 15 + (run.metal === 'aluminium' ? 3 : 0);
  if (run.kcmil !== undefined) return Number(thickestUpTo(kcmilAmpacities, run.kcmil)?.[place]);
  const row = thickestNotOver(ampacities, run.awg ?? 14);
  return row === undefined ? 0 : Number(row[place]);
}

/**
 * Conductors of a feeder. Terminations of equipment over 100 A, so of 1/0 AWG and thicker, are made
 * for 75 °C, smaller ones for 60 °C unless marked (NEC 110.14(C), from memory).
 */
export function feederAmpacity(run: Run, phases: 1 | 3): Amperes {
  if (run.mm2 !== undefined) return metricAmpacity(run, phases === 3 ? 3 : 2);
  const thick = run.kcmil !== undefined || gaugeNumber(run.awg ?? 14) <= 0;
  return branchAmpacity(run, thick ? 75 : 60);
}

function metricAmpacity({ mm2 = 0, metal }: Run, loaded: 2 | 3): Amperes {
  const copper = thickestUpTo(metricAmpacities, mm2)?.[loaded - 1] ?? 0;
  return metal === 'aluminium' ? copper / Math.sqrt(aluminiumOverCopper) : copper;
}

/** Flexible cord, two current-carrying conductors, 30 °C. */
export function cordAmpacity(gauge: Gauge): Amperes {
  if (gauge.mm2 !== undefined) return metricAmpacity(gauge, 2);
  return thickestNotOver(cordAmpacities, gauge.awg ?? 18)?.[1] ?? 0;
}

/** The row of the thickest listed wire that is not thicker than the one asked for. */
function thickestNotOver<Row extends readonly [string, ...unknown[]]>(
  table: readonly Row[],
  awg: number | string,
): Row | undefined {
  return table.findLast(([listed]) => gaugeNumber(listed) >= gaugeNumber(awg));
}

function thickestUpTo<Row extends readonly [number, ...number[]]>(
  table: readonly Row[],
  size: number,
): Row | undefined {
  return table.findLast(([listed]) => listed <= size);
}

/** The size alone, as a sentence's figures carry it. */
export const gaugeOf = ({ awg, kcmil, mm2 }: Gauge): Gauge =>
  mm2 !== undefined ? { mm2 } : kcmil !== undefined ? { kcmil } : awg !== undefined ? { awg } : {};

/** The length alone. */
export const runOf = ({ feet, metres }: Run): Pick<Run, 'feet' | 'metres'> =>
  metres !== undefined ? { metres } : feet !== undefined ? { feet } : {};

/** Worst single-phase drop by the book: 2·I·L·R. */
export const loopDrop = (amps: Amperes, oneWayOhms: Ohms): Volts => 2 * amps * oneWayOhms;
