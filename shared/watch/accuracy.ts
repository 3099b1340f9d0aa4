import type { Accuracy } from '../rules/facts.ts';

/**
 * 95 % half-widths taken for a sensor or recording that states none: IEC 61000-4-30 class S, from
 * memory. Supply voltage ±0.5 % of declared, residual voltage of a dip ±1 %, current ±2 %.
 */
export const classS: Accuracy = { volts: 0.005, halfCycleVolts: 0.01, amps: 0.02 };
