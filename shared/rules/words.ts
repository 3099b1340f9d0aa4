/** Figures in sentences: as many digits as a person at the machine can use. */

/** One decimal under 20 V and where a whole volt would hide which side of the limit it is. */
export const volts = (value: number, beside?: number): string => {
  const close = beside !== undefined && Math.abs(value - beside) < 1.5;
  return `${value.toFixed(close || Math.abs(value) < 20 ? 1 : 0)} V`;
};

export const amps = (value: number): string => `${value.toFixed(value < 10 ? 1 : 0)} A`;
export const percent = (fraction: number, digits = 1): string =>
  `${(fraction * 100).toFixed(digits)} %`;
export const seconds = (value: number): string =>
  value < 10 ? `${value.toFixed(2)} s` : `${value.toFixed(0)} s`;
