import { type Static, Type } from 'typebox';
import { FigureOrNull } from './http.ts';

/** One channel's spectrum; index = order, 0 the direct component; r.m.s. in the channel's unit. */
const Lines = Type.Object({
  /** Harmonic groups after IEC 61000-4-7: the harmonic with all half way to its neighbours. */
  groups: Type.Array(Type.Number()),
  /** Harmonic subgroups: the harmonic with its two neighbouring lines. */
  subgroups: Type.Array(Type.Number()),
  /** Of subgroups, orders 2 to 40, percent of the fundamental. */
  thdPercent: FigureOrNull,
});

/**
 * An arc's spectrum over one window of 10 cycles at 50 Hz or 12 at 60 Hz, or over all that lie
 * wholly in it: then each line is the root of the mean of the windows' squares.
 */
export const ArcSpectrum = Type.Object({
  /** From the begin of the first window to the end of the last, seconds from the arc's start. */
  fromS: Type.Number(),
  toS: Type.Number(),
  windows: Type.Integer({ minimum: 1 }),
  /** Mean fundamental frequency of the windows. */
  hertz: Type.Number(),
  pairs: Type.Array(Type.Object({ volts: Lines, amps: Lines })),
});
export type ArcSpectrum = Static<typeof ArcSpectrum>;
