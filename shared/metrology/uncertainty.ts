import type { Amperes, Volts } from '../units.ts';
import type { Interval, SupplyEstimate } from './supply-estimate.ts';
import type { Prediction } from './supply-prediction.ts';

/** Limits of error of a sensor, ±, as its maker states them. */
export interface SensorClass {
  voltsPercent: number;
  ampsPercent: number;
  /** Between a pair's voltage and current. */
  phaseDegrees: number;
}

/** IEC 61000-4-30 Table 1, classes A and S, for voltage and current (from memory); the phase is
 * that of a class 0.5 and a class 1 current transformer, IEC 61869-2 (from memory). */
export const sensorClassA: SensorClass = { voltsPercent: 0.1, ampsPercent: 1, phaseDegrees: 0.5 };
export const sensorClassS: SensorClass = { voltsPercent: 0.5, ampsPercent: 2, phaseDegrees: 1 };

/** One line of a budget: what it comes from and its standard uncertainty in the figure's unit. */
export interface Contribution {
  from: 'sensor ratio' | 'sensor phase' | 'noise' | 'sync' | 'estimate';
  /** JCGM 100: A from repeated readings, B from other knowledge. */
  type: 'A' | 'B';
  standard: number;
}

/** After JCGM 100 (GUM): uncorrelated lines, combined standard and expanded figure. */
export interface Budget {
  contributions: Contribution[];
  combined: number;
  /** combined · k. */
  expanded: number;
  k: 2;
}

/** A limit with nothing known inside it is rectangular: JCGM 100, 4.3.7. */
const RECTANGULAR = 1 / Math.sqrt(3);
/** A window is whole cycles to this part of a cycle; the rms of a sine is off by up to half. */
const SYNC_CYCLES = 2e-4;

/** Root of the sum of squares (JCGM 100, 5.1.2), expanded by k = 2 (6.2.1). */
export function budgetOf(contributions: Contribution[]): Budget {
  let squares = 0;
  for (const { standard } of contributions) squares += standard * standard;
  const combined = Math.sqrt(squares);
  return { contributions, combined, expanded: 2 * combined, k: 2 };
}

/** Of a mean of `readings` rms voltages that scatter by `scatter` (standard deviation). */
export function voltsBudget(
  volts: Volts,
  sensor: SensorClass,
  scatter: Volts,
  readings: number,
): Budget {
  return budgetOf([
    ratio((volts * sensor.voltsPercent) / 100),
    noise(scatter, readings),
    sync(volts),
  ]);
}

export function ampsBudget(
  amps: Amperes,
  sensor: SensorClass,
  scatter: Amperes,
  readings: number,
): Budget {
  return budgetOf([ratio((amps * sensor.ampsPercent) / 100), noise(scatter, readings), sync(amps)]);
}

/** Of an active power V·I·cosφ: a turn δ of the current's phase changes it by V·I·sinφ·δ. */
export function wattsBudget(
  volts: Volts,
  amps: Amperes,
  powerFactor: number,
  sensor: SensorClass,
  scatterWatts: number,
  readings: number,
): Budget {
  const watts = volts * amps * powerFactor;
  const sine = Math.sqrt(Math.max(0, 1 - powerFactor * powerFactor));
  return budgetOf([
    ratio((watts * sensor.voltsPercent) / 100),
    ratio((watts * sensor.ampsPercent) / 100),
    phase(volts * amps * sine, sensor),
    noise(scatterWatts, readings),
    sync(watts),
  ]);
}

/** Of R: a ratio error scales it, a phase error turns X into it. */
export function ohmsRBudget(estimate: SupplyEstimate, sensor: SensorClass): Budget {
  return ohmsBudget(estimate.ohmsR, estimate.ohmsX, estimate.varianceR, sensor);
}

/** Of X: a phase error turns R into it, and R is the larger, so this is mostly phase. */
export function ohmsXBudget(estimate: SupplyEstimate, sensor: SensorClass): Budget {
  return ohmsBudget(estimate.ohmsX, estimate.ohmsR, estimate.varianceX, sensor);
}

/**
 * An estimate as the sensor's limits leave it: the same values, wider. Its variances are scaled so
 * that `coverage` widens a sensor's part by k = 2 and the estimate's own by Student's factor. R and
 * X are off together: a ratio error scales both, a phase error turns one into the other.
 */
export function throughSensor(estimate: SupplyEstimate, sensor: SensorClass): SupplyEstimate {
  const { ohmsR, ohmsX, ohmsR95, ohmsX95, coverage } = estimate;
  const byR = ohmsBudget(ohmsR, ohmsX, 0, sensor);
  const byX = ohmsBudget(ohmsX, ohmsR, 0, sensor);
  const scale = (byR.k / coverage) ** 2;
  const ratios = (sensor.voltsPercent ** 2 + sensor.ampsPercent ** 2) / 1e4;
  const turn = (sensor.phaseDegrees * Math.PI) / 180;
  const together = ohmsR * ohmsX * (ratios - turn * turn) * RECTANGULAR * RECTANGULAR;
  return {
    ...estimate,
    ohmsR95: widened(ohmsR, ohmsR95, byR),
    ohmsX95: widened(ohmsX, ohmsX95, byX),
    varianceR: estimate.varianceR + scale * byR.combined ** 2,
    varianceX: estimate.varianceX + scale * byX.combined ** 2,
    covarianceRX: estimate.covarianceRX + scale * together,
  };
}

/**
 * Of a foretold voltage. E and the drop both carry the voltage ratio. The current's ratio is in
 * the impedance only: read 1 % high, the current makes Z and so the drop 1 % small.
 */
export function foretoldBudget(
  prediction: Prediction,
  estimate: SupplyEstimate,
  sensor: SensorClass,
): Budget {
  const drop = estimate.openVolts - prediction.volts;
  const turned = prediction.amps * estimate.fundamentalShare;
  const across =
    Math.cos(estimate.lagRadians) * estimate.ohmsX - Math.sin(estimate.lagRadians) * estimate.ohmsR;
  return budgetOf([
    ratio((prediction.volts * sensor.voltsPercent) / 100),
    ratio((drop * sensor.ampsPercent) / 100),
    phase(turned * across, sensor),
    {
      from: 'estimate',
      type: 'A',
      standard: (prediction.hi - prediction.lo) / 2 / estimate.coverage,
    },
  ]);
}

/** The 95 % interval of a measured value, k = 2. */
export function intervalOf(value: number, budget: Budget): [number, number] {
  return [value - budget.expanded, value + budget.expanded];
}

function widened(value: number, [lo, hi]: Interval, budget: Budget): Interval {
  const { expanded } = budget;
  return [value - Math.hypot(value - lo, expanded), value + Math.hypot(hi - value, expanded)];
}

function ohmsBudget(own: number, other: number, variance: number, sensor: SensorClass): Budget {
  return budgetOf([
    ratio((own * sensor.voltsPercent) / 100),
    ratio((own * sensor.ampsPercent) / 100),
    phase(other, sensor),
    { from: 'estimate', type: 'A', standard: Math.sqrt(variance) },
  ]);
}

function ratio(limit: number): Contribution {
  return { from: 'sensor ratio', type: 'B', standard: Math.abs(limit) * RECTANGULAR };
}

function phase(perRadian: number, sensor: SensorClass): Contribution {
  const limit = (Math.abs(perRadian) * sensor.phaseDegrees * Math.PI) / 180;
  return { from: 'sensor phase', type: 'B', standard: limit * RECTANGULAR };
}

function noise(scatter: number, readings: number): Contribution {
  return { from: 'noise', type: 'A', standard: scatter / Math.sqrt(Math.max(1, readings)) };
}

function sync(value: number): Contribution {
  const limit = (Math.abs(value) * SYNC_CYCLES) / 2;
  return { from: 'sync', type: 'B', standard: limit * RECTANGULAR };
}
