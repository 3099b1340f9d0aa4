/**
 * Numbers that know their unit. A plain number may stand for any of them; one unit never for
 * another, so volts handed over as amperes do not compile.
 */
type Quantity<Unit extends string> = number & { readonly __unit?: Unit };

export type Volts = Quantity<'V'>;
export type Amperes = Quantity<'A'>;
export type Watts = Quantity<'W'>;
export type Ohms = Quantity<'ohm'>;
export type Hertz = Quantity<'Hz'>;
export type Seconds = Quantity<'s'>;
/** Microseconds since 1970-01-01 UTC; an integer below 2^53 until the year 2255. */
export type EpochMicros = Quantity<'us-epoch'>;
/** Position in a stream counted in samples from its first; fractional where a cycle border is. */
export type SampleIndex = Quantity<'sample'>;
/** A part of one: 0.3 is 30 %. */
export type Fraction = Quantity<'1'>;
