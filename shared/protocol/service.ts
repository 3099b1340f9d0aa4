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

/** Where a machine hangs: entries of a row (pairs, then between them), and the volts of all. */
export interface Terminals {
  loops: readonly number[];
  /** With the machine idle, one entry of a row each: what tells the angles. */
  volts: readonly number[];
}

/** Volts of every loop from what the pairs read now, by the angles that were seen. */
export function loopVolts({ loops, volts }: Terminals, pairs: readonly number[]): number[] {
  return loops.map((loop) => {
    if (loop < pairs.length) return pairs[loop]!;
    const one = loop - pairs.length;
    const other = (one + 1) % pairs.length;
    const [a, b, c] = [volts[one]!, volts[other]!, volts[loop]!];
    // The law of cosines there, and back.
    const cosine = a > 0 && b > 0 ? (a * a + b * b - c * c) / (2 * a * b) : 0;
    const [now, then] = [pairs[one]!, pairs[other]!];
    return Math.sqrt(Math.max(0, now * now + then * then - 2 * now * then * cosine));
  });
}
