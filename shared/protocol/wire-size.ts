/** Half a step between trade sizes: 0.8 mm is sold as 0.030 in, and is 0.0315. */
const halfStepInches = 0.0025;

/** Whether a list of wire diameters has one, all in inches. */
export const namesWire = (named: readonly number[], askedInches: number): boolean =>
  named.some((each) => Math.abs(each - askedInches) < halfStepInches);

/** The same wire as it is sold by inches and by millimetres: common practice, no source. */
const sold = [
  { inches: 0.023, mm: 0.6 },
  { inches: 0.03, mm: 0.8 },
  { inches: 0.035, mm: 0.9 },
  { inches: 0.04, mm: 1 },
  { inches: 0.045, mm: 1.2 },
  { inches: 0.047, mm: 1.2 },
  { inches: 0.0625, mm: 1.6 },
] as const;

export type WireUnit = 'mm' | 'inches';

/** Figures after the point in which a diameter is written. */
const digits = { mm: 2, inches: 4 } as const;
const perInch = { mm: 25.4, inches: 1 } as const;

/**
 * What wire of a diameter in inches is called: as it was written, where it was written in this
 * unit, else as it is sold, else its figure.
 */
export function wireCalled(inches: number, unit: WireUnit): number {
  const own = inches * perInch[unit];
  const written = Number(own.toFixed(digits[unit]));
  if (Math.abs(own - written) < 1e-6) return written;
  const [near] = [...sold].sort(
    (one, other) => Math.abs(one.inches - inches) - Math.abs(other.inches - inches),
  );
  return near && namesWire([near.inches], inches) ? near[unit] : written;
}

/** What is typed, in inches; a size that is among the `kept` ones is kept as it was. */
export const wireTyped = (typed: number, unit: WireUnit, kept: readonly number[]): number =>
  kept.find((each) => wireCalled(each, unit) === typed) ?? typed / perInch[unit];
