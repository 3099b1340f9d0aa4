/**
 * One integration step, s. Four steps a sample at the usual 10 240 samples/s: the second-order
 * formula then errs by 0.2 % at the ninth harmonic of 60 Hz and by 0.003 % at the fundamental.
 */
export const stepsPerSecond = 40_960;
export const stepS = 1 / stepsPerSecond;

/** Steps between two looks at what changes slowly: heat, drift, switches, relays. 3.1 ms. */
export const sliceSteps = 128;
export const sliceS = sliceSteps * stepS;

export const steps = (seconds: number): number => Math.max(1, Math.round(seconds * stepsPerSecond));
