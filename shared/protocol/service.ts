/**
 * How the wires that a sensor measures are fed. `wye-208` and `wye-legs` are two legs of three,
 * 120° apart; of `three-phase` each pair was measured to neutral, of `three-phase-delta` from line
 * to line. `same-leg` and `phase-twice` have two pairs on one wire; `unknown` is where magnitudes
 * and angles tell different stories.
 */
export const arrangements = [
  'single',
  'split-phase',
  'wye-208',
  'wye-legs',
  'same-leg',
  'high-leg',
  'corner-grounded',
  'three-phase',
  'three-phase-delta',
  'phase-twice',
  'missing-phase',
  'unknown',
] as const;
export type Arrangement = (typeof arrangements)[number];

/** Of a recording or an arc; volts true r.m.s. with the machine idle. */
export interface Service {
  arrangement: Arrangement;
  /** Between pairs 1 and 2, and where there are three 2 and 3, 3 and 1; empty for one pair. */
  voltsBetween: number[];
}
