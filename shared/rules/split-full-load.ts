import type { Share, SplitShares } from '../protocol/split.ts';
import type { Fraction, Ohms, Volts } from '../units.ts';
import type { Setting, SupplyEvidence, SupplyView } from './facts.ts';
import type { Reading } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { machineVolts } from './wiring.ts';

/** Of all that the voltage falls by, the building's part, with its 95 % half-width. */
export interface PartOfBuilding {
  value: Fraction;
  half: Fraction;
}

const nothingBetween = { ohms: 0, lo: 0, hi: 0 };

/**
 * The fall foretold at I1max by the machine's end, split as the two supplies' ohms say or as the
 * arc's own voltages do (`ofArc`), whichever is told more narrowly.
 */
export function fullLoadSplit(
  setting: Setting,
  outlet: SupplyEvidence | null,
  machine: SupplyEvidence | null,
  ofArc: PartOfBuilding | null,
): SplitShares | null {
  const { rated } = setting;
  if (rated === null || machine === null) return null;
  const left = fullLoadVolts(setting, rated, machine, nothingBetween);
  const views = machine.pairs.filter((view) => view !== null);
  const part = narrower(ofArc, outlet && partByOhms(outlet, machine));
  if (left === null || part === null) return null;
  const open = machineVolts(views.map((view) => view.openVolts));
  const spread = Math.max(...views.map((view) => view.coverage * view.openVoltsSd));
  const total = open - left.value;
  const totalHalf = Math.hypot(Math.max(left.value - left.lo, left.hi - left.value), spread);
  const shared = (value: Fraction) => {
    const half = Math.hypot(part.half * total, value * totalHalf);
    return shareOf(
      { value: value * total, lo: value * total - half, hi: value * total + half },
      open,
    );
  };
  return {
    amps: ampsAt(rated, machine.behaviour, left.value),
    openVolts: open,
    building: shared(part.value),
    cord: shared(1 - part.value),
    leftVolts: left.value,
  };
}

/** A machine of constant power draws more than the plate says where the voltage is lower. */
function ampsAt(
  { U1, I1max }: { U1: number; I1max: number },
  behaviour: SupplyEvidence['behaviour'],
  volts: number,
): number {
  if (volts <= 0 || behaviour === 'unknown') return I1max;
  return behaviour === 'constant-power' ? (I1max * U1) / volts : (I1max * volts) / U1;
}

function partByOhms(outlet: SupplyEvidence, machine: SupplyEvidence): PartOfBuilding | null {
  let [above, all, aboveVariance, allVariance] = [0, 0, 0, 0];
  for (const [pair, view] of machine.pairs.entries()) {
    const other = outlet.pairs[pair] ?? null;
    if (view === null || other === null) return null;
    // Both by the machine's angle: it is one current.
    const [here, there] = [ohmsAlong(view, view), ohmsAlong(other, view)];
    above += there.ohms;
    all += here.ohms;
    aboveVariance += there.variance;
    allVariance += here.variance;
  }
  if (all <= 0 || above < 0) return null;
  const coverage = Math.max(...machine.pairs.map((view) => view!.coverage));
  const value = above / all;
  const half =
    (coverage * Math.hypot(Math.sqrt(aboveVariance), value * Math.sqrt(allVariance))) / all;
  return { value: Math.min(1, value), half };
}

/** R cosφ + X sinφ along a load's angle, and its variance. */
function ohmsAlong(view: SupplyView, { lagRadians }: SupplyView): { ohms: Ohms; variance: number } {
  const [c, s] = [Math.cos(lagRadians), Math.sin(lagRadians)];
  const variance = c * c * view.varianceR + s * s * view.varianceX + 2 * c * s * view.covarianceRX;
  return { ohms: c * view.ohmsR + s * view.ohmsX, variance: Math.max(0, variance) };
}

function narrower(a: PartOfBuilding | null, b: PartOfBuilding | null): PartOfBuilding | null {
  if (a === null || b === null) return a ?? b;
  return a.half <= b.half ? a : b;
}

/** A fall with its interval, as volts and as a part of the voltage that it came off. */
export function shareOf({ value, lo, hi }: Reading, of: Volts): Share {
  const volts95: [number, number] = [Math.max(0, lo), Math.max(0, hi)];
  return {
    volts: Math.max(0, value),
    volts95,
    fraction: Math.max(0, value) / of,
    fraction95: [volts95[0] / of, volts95[1] / of],
  };
}
