import { ampsBudget, sensorClassS, voltsBudget } from '../metrology/uncertainty.ts';
import type { Accuracy } from '../rules/facts.ts';

/**
 * 95 % half-widths, parts of a reading, taken for a sensor or recording that states none: class S
 * of IEC 61000-4-30. The residual voltage of a dip is ±1 % there, from memory.
 */
export const classS: Accuracy = {
  volts: voltsBudget(1, sensorClassS, 0, 1).expanded,
  halfCycleVolts: 0.01,
  amps: ampsBudget(1, sensorClassS, 0, 1).expanded,
};
