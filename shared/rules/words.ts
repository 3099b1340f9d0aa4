import { figuresWith } from '../words/figures.ts';

/** Figures in English sentences. */
export const { volts, amps, percent, seconds } = figuresWith('.');
