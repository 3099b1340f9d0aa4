import type { Fraction } from '../units.ts';

/** A class of ISO 8528-5: what a set may do as load steps on, parts of the rated values. */
interface GeneratorClass {
  name: 'G1' | 'G2' | 'G3';
  frequencyDip: Fraction;
  voltageDip: Fraction;
}

export const generatorClassSource =
  'ISO 8528-5, classes G1 to G3, as a textbook of standby supplies prints them';

/** The strictest first. A set of class G1 may dip by a quarter and be sound. */
const classes: readonly GeneratorClass[] = [
  { name: 'G3', frequencyDip: 0.07, voltageDip: 0.15 },
  { name: 'G2', frequencyDip: 0.1, voltageDip: 0.2 },
  { name: 'G1', frequencyDip: 0.15, voltageDip: 0.25 },
];

/** The strictest class whose dips hold what was seen; null beyond all. Information, no test. */
export function generatorClassOf(frequencyDip: Fraction, voltageDip: Fraction): string | null {
  const fits = classes.find(
    (each) => frequencyDip <= each.frequencyDip && voltageDip <= each.voltageDip,
  );
  return fits?.name ?? null;
}
