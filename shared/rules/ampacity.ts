import type { Branch, Circuit, Cord } from '../protocol/circuit.ts';
import type { Plate } from '../protocol/plate.ts';
import type { Amperes, Fraction } from '../units.ts';
import {
  bundleFactors,
  cordAmps,
  fixedAmps,
  groupFactors,
  kcmilAmps,
  metricAmps,
  metricCordAmps,
} from './ampacity-tables.ts';
import { aluminiumOverCopper, gaugeNumber } from './wire.ts';

/** Conductors that carry current: the ground never does, a neutral only where it is loaded. */
export type Loaded = 2 | 3;
/** Fixed conductors of a branch or a feeder, with what is known of how they lie. */
export type Fixed = Branch & { kcmil?: number };

/**
 * Two for a machine between two wires; three where it has three phases, and on a four-wire
 * 120/240 V circuit whose neutral is loaded too. Without a plate the circuit's own phases count.
 */
export function loadedConductors(
  circuit: Pick<Circuit, 'phases' | 'neutralLoaded'> | null,
  plate: Pick<Plate, 'phases'> | null,
): Loaded {
  const phases = plate?.phases ?? circuit?.phases ?? 1;
  return phases === 3 || circuit?.neutralLoaded === true ? 3 : 2;
}

/** An ampacity with what it stands on, as a sentence tells it. */
export interface Ampacity {
  amps: Amperes;
  by: AmpacityBasis;
}
export interface AmpacityBasis {
  /** Of NEC table 310.16: the column that rules, °C; null for metric wire. */
  column: 60 | 75 | 90 | null;
  /** Of IEC 60364-5-52; null for AWG and kcmil. */
  method: 'B1' | 'B2' | 'C' | null;
  insulation: 'PVC' | 'XLPE' | null;
  loaded: Loaded;
  /** What was given to correct by; null where nothing was. */
  ambient: { celsius: number; factor: Fraction } | null;
  grouped: { circuits: number; factor: Fraction } | null;
}

/** Both tables are made for 30 °C; they begin at 10 °C, and nothing is gained below. */
const tableCelsius = 30;
const coolestCelsius = 10;

/**
 * Share of a 30 °C ampacity that is left at another ambient: √((Tc − Ta)/(Tc − 30)). NEC 310.15(B)
 * gives the equation, and the printed columns of 60, 75 and 90 °C follow it, as do those of IEC
 * 60364-5-52 for PVC (70 °C) and XLPE (90 °C). 0 where the ambient is the wire's own limit.
 */
export function ambientFactor(conductorCelsius: number, ambientCelsius: number): Fraction {
  const ambient = Math.max(coolestCelsius, ambientCelsius);
  return Math.sqrt(Math.max(0, conductorCelsius - ambient) / (conductorCelsius - tableCelsius));
}

/** By the loaded conductors of like circuits in one raceway or cable, NEC table 310.15(C)(1). */
export function bundleFactor(circuits: number, loaded: Loaded): Fraction {
  const conductors = circuits * loaded;
  return (bundleFactors.find(([most]) => conductors <= most) ?? bundleFactors.at(-1)!)[1];
}

/** By circuits that lie bunched or enclosed together, IEC 60364-5-52, table B.52.17. */
export const groupFactor = (circuits: number): Fraction =>
  groupFactors[Math.min(circuits, groupFactors.length) - 1]!;

/** A cell of NEC table 310.16 at 30 °C; 0 where the size is none for building wire. */
export function tableAmpacity(run: Fixed, column: 60 | 75 | 90): Amperes {
  const place = 1 + (column - 60) / 15 + (run.metal === 'aluminium' ? 3 : 0);
  const row =
    run.kcmil === undefined
      ? thickestNotOver(fixedAmps, run.awg ?? 14)
      : thickestUpTo(kcmilAmps, run.kcmil);
  return Number(row?.[place] ?? 0);
}

/** Fixed conductors of a branch or a feeder. */
export const branchAmpacity = (run: Fixed, loaded: Loaded = 2): Amperes =>
  ampacityOf(run, loaded).amps;

export function ampacityOf(run: Fixed, loaded: Loaded): Ampacity {
  return run.mm2 === undefined ? americanAmpacity(run, loaded) : metricAmpacity(run, loaded);
}

/**
 * The factors act on the column of the insulation; the terminals' own column is the most that may
 * flow (NEC 110.14(C), from memory): 60 °C up to 1 AWG unless they are marked, 75 °C over it.
 * Insulation that nobody named is taken for what such terminals are made for.
 */
function americanAmpacity(run: Fixed, loaded: Loaded): Ampacity {
  const thick = run.kcmil !== undefined || gaugeNumber(run.awg ?? 14) <= 0;
  const usual = thick ? 75 : 60;
  const terminals = run.terminalsCelsius ?? usual;
  // 70 °C is of metric wire, and refused when a circuit is read.
  const insulation = (run.insulationCelsius ?? usual) as 60 | 75 | 90;
  const factors = factorsOf(run, insulation, (circuits) => bundleFactor(circuits, loaded));
  const corrected = tableAmpacity(run, insulation) * factors.together;
  const amps = Math.min(corrected, tableAmpacity(run, terminals));
  const column = Math.min(insulation, terminals) as 60 | 75;
  return { amps, by: { column, method: null, insulation: null, loaded, ...factors.given } };
}

/** PVC in a multicore cable in conduit, method B2, where nothing else is said. */
function metricAmpacity(run: Fixed, loaded: Loaded): Ampacity {
  const { mm2 = 0, metal, method = 'B2', insulationCelsius = 70 } = run;
  const insulation = insulationCelsius === 90 ? 'XLPE' : 'PVC';
  const row = thickestUpTo(metricAmps[insulation][loaded], mm2);
  const copper = row?.[{ B1: 1, B2: 2, C: 3 }[method]] ?? 0;
  const table = metal === 'aluminium' ? copper / Math.sqrt(aluminiumOverCopper) : copper;
  const factors = factorsOf(run, insulationCelsius, groupFactor);
  const by = { column: null, method, insulation, loaded, ...factors.given } as const;
  return { amps: table * factors.together, by };
}

/** Factors multiply; what was not given changes nothing and is not told. */
function factorsOf(
  { ambientCelsius, groupedCircuits }: Fixed,
  conductorCelsius: number,
  byCircuits: (circuits: number) => Fraction,
) {
  const ambient =
    ambientCelsius === undefined
      ? null
      : { celsius: ambientCelsius, factor: ambientFactor(conductorCelsius, ambientCelsius) };
  const grouped =
    groupedCircuits === undefined
      ? null
      : { circuits: groupedCircuits, factor: byCircuits(groupedCircuits) };
  const together = (ambient?.factor ?? 1) * (grouped?.factor ?? 1);
  return { together, given: { ambient, grouped } };
}

/** Flexible cords are made for 60 °C unless they are marked otherwise. */
const cordCelsius = 60;

/** The warmest air that any of some cords lies in, for a cord that would take their place. */
export function sameAir(cords: readonly Cord[]): Pick<Cord, 'ambientCelsius'> {
  const known = cords.flatMap(({ ambientCelsius }) => ambientCelsius ?? []);
  return known.length === 0 ? {} : { ambientCelsius: Math.max(...known) };
}

/** A flexible cord: column B of the table for two loaded conductors, A for three. */
export function cordAmpacity(cord: Cord, loaded: Loaded = 2): Amperes {
  const table =
    cord.mm2 === undefined
      ? thickestNotOver(cordAmps, cord.awg ?? 18)?.[loaded === 3 ? 1 : 2]
      : thickestUpTo(metricCordAmps, cord.mm2)?.[loaded - 1];
  const { ambientCelsius: ambient } = cord;
  return (table ?? 0) * (ambient === undefined ? 1 : ambientFactor(cordCelsius, ambient));
}

/** The row of the thickest listed wire that is not thicker than the one asked for. */
export function thickestNotOver<Row extends readonly [string, ...unknown[]]>(
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
