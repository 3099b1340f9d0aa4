import type { Amperes, Ohms, Volts, Watts } from '../units.ts';
import type { SupplyEstimate } from './supply-estimate.ts';

/** A voltage foretold, with its 95 % interval, and the current at which it stands. */
export interface Prediction {
  volts: Volts;
  lo: Volts;
  hi: Volts;
  amps: Amperes;
}

/** What of the load is known beyond its amperes; what is left out is as measured in the arcs. */
export interface LoadShape {
  /** Angle by which the fundamental of the current lags the voltage; negative where it leads. */
  lagRadians?: number;
  /** Fundamental over true r.m.s. of the current. */
  fundamentalShare?: number;
}

/**
 * Closed form of V = E − Z·I for a current of given size and angle to V:
 * V = √(E² − I²(X cosφ − R sinφ)²) − I(R cosφ + X sinφ).
 * `amps` is true r.m.s.; null where the supply cannot drive that current.
 */
export function predictAtCurrent(
  estimate: SupplyEstimate,
  amps: Amperes,
  shape: LoadShape = {},
): Prediction | null {
  const lag = shape.lagRadians ?? estimate.lagRadians;
  const fundamental = amps * (shape.fundamentalShare ?? estimate.fundamentalShare);
  const along = Math.cos(lag) * fundamental;
  const across = Math.sin(lag) * fundamental;
  const { openVolts: open, ohmsR, ohmsX } = estimate;
  const turned = ohmsX * along - ohmsR * across;
  const under = open * open - turned * turned;
  if (under <= 0) return null;
  const root = Math.sqrt(under);
  const volts = root - ohmsR * along - ohmsX * across;
  if (volts <= 0) return null;
  const byR = (turned * across) / root - along;
  const byX = -(turned * along) / root - across;
  return spread(estimate, volts, amps, open / root, byR, byX);
}

/**
 * The same for a load that draws `watts` whatever its voltage (W14 of the worked examples):
 * with q = P·tanφ, V⁴ + V²(2(RP + Xq) − E²) + |Z|²(P² + q²) = 0, upper root.
 * Null where the supply cannot carry that power: the voltage would collapse.
 */
export function predictAtPower(
  estimate: SupplyEstimate,
  watts: Watts,
  shape: LoadShape = {},
): Prediction | null {
  const lag = shape.lagRadians ?? estimate.lagRadians;
  const vars = watts * Math.tan(lag);
  const { openVolts: open, ohmsR, ohmsX } = estimate;
  const half = (open * open) / 2 - ohmsR * watts - ohmsX * vars;
  const apparentSquared = watts * watts + vars * vars;
  const under = half * half - (ohmsR * ohmsR + ohmsX * ohmsX) * apparentSquared;
  if (half <= 0 || under <= 0) return null;
  const root = Math.sqrt(under);
  const square = half + root;
  const volts = Math.sqrt(square);
  // Slopes of V² = half + root, over 2V.
  const byHalf = (1 + half / root) / (2 * volts);
  const byOpen = byHalf * open;
  const byR = -byHalf * watts - (ohmsR * apparentSquared) / (root * 2 * volts);
  const byX = -byHalf * vars - (ohmsX * apparentSquared) / (root * 2 * volts);
  const share = shape.fundamentalShare ?? estimate.fundamentalShare;
  const amps = Math.sqrt(apparentSquared) / volts / share;
  return spread(estimate, volts, amps, byOpen, byR, byX);
}

/** First-order spread (JCGM 100, 5.1.2) of a voltage whose slopes are known. */
function spread(
  estimate: SupplyEstimate,
  volts: number,
  amps: number,
  byOpen: number,
  byR: number,
  byX: number,
): Prediction {
  const variance =
    (byOpen * estimate.openVoltsSd) ** 2 +
    byR * byR * estimate.varianceR +
    byX * byX * estimate.varianceX +
    2 * byR * byX * estimate.covarianceRX;
  const halfWidth = estimate.coverage * Math.sqrt(Math.max(variance, 0));
  return { volts, lo: volts - halfWidth, hi: volts + halfWidth, amps };
}

/** The plate's full load: rated supply voltage and the largest current at it. */
export interface FullLoad {
  U1: Volts;
  I1max: Amperes;
}

/**
 * The voltage foretold at the plate's full load, which is I1max at U1. A machine of constant power
 * asks for those watts whatever its voltage and draws more than I1max where it is lower; one of
 * constant impedance draws less. Unknown: I1max itself, with the lower end of the worse and the
 * upper end of the better. Null where the supply cannot carry it.
 */
export function predictAtFullLoad(
  estimate: SupplyEstimate,
  plate: FullLoad,
  behaviour: 'constant-power' | 'constant-impedance' | 'unknown',
): Prediction | null {
  const fundamental = plate.I1max * estimate.fundamentalShare;
  const power = predictAtPower(estimate, plate.U1 * fundamental * Math.cos(estimate.lagRadians));
  if (behaviour === 'constant-power') return power;
  const impedance = predictAtImpedance(estimate, plate.U1 / fundamental);
  if (behaviour === 'constant-impedance') return impedance;
  const current = predictAtCurrent(estimate, plate.I1max);
  if (current === null) return null;
  const lo = power === null ? 0 : Math.min(power.lo, impedance.lo, current.lo);
  return { ...current, lo, hi: Math.max(power?.hi ?? 0, impedance.hi, current.hi) };
}

/** V = E·|z|/|z + Z| of a load z = `ohms` at the estimate's angle. */
export function predictAtImpedance(estimate: SupplyEstimate, ohms: Ohms): Prediction {
  const { openVolts: open, lagRadians: lag } = estimate;
  const re = ohms * Math.cos(lag) + estimate.ohmsR;
  const im = ohms * Math.sin(lag) + estimate.ohmsX;
  const square = re * re + im * im;
  const volts = (open * ohms) / Math.sqrt(square);
  const amps = volts / ohms / estimate.fundamentalShare;
  return spread(
    estimate,
    volts,
    amps,
    volts / open,
    (-volts * re) / square,
    (-volts * im) / square,
  );
}
