import {
  ampsBudget,
  type SensorClass,
  sensorClassS,
  voltsBudget,
} from '../metrology/uncertainty.ts';
import type { Accuracy } from '../rules/facts.ts';

/** Taken for a sensor or recording that states none: class S of IEC 61000-4-30. */
export const assumedSensor: SensorClass = sensorClassS;

/**
 * Residual voltage of a dip, part of the reading, 95 %: ±0.2 % of the declared voltage in class A
 * and ±1 % in class S, from memory; a stated class lies between by its voltage's limit.
 */
const halfCycleVolts = (voltsPercent: number) => Math.max(0.002, (2 * voltsPercent) / 100);

/** 95 % half-widths of single readings of a sensor, parts of them. */
export const accuracyOf = (sensor: SensorClass): Accuracy => ({
  volts: voltsBudget(1, sensor, 0, 1).expanded,
  halfCycleVolts: halfCycleVolts(sensor.voltsPercent),
  amps: ampsBudget(1, sensor, 0, 1).expanded,
});
