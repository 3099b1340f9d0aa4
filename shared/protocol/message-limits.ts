/**
 * What the figures of a sensor's messages may be. Wide of anything that a shop has: a value beyond
 * is a fault of the sender, and would be shown, stored or reckoned with as if it were measured.
 * Common practice, no source, where none is named.
 */
export const messageLimits = {
  /**
   * Samples, rows, numbers and boots: 2⁴⁸ samples at the highest rate last 44 years, and a ring's
   * numbers begin at the milliseconds since 1970. Sums of some of them stay whole (2⁵³).
   */
  countMost: 2 ** 48,
  /** A clock that nobody has set counts from 1970; 2100-01-01 is past any board's life. */
  timeMostUs: 4_102_444_800_000_000,
  rateHz: { least: 1_000, most: 200_000 },
  /** Volts or amperes a count, of either sign: a clamp may hang the wrong way round. */
  scaleMost: 1_000,
  /** A dead circuit reads 0; 400 Hz, with its strays, is the highest that any mains run at. */
  hertzMost: 500,
  /** A hundred times the top of low voltage (IEC 60038: 1,000 V). */
  voltsMost: 100_000,
  /** Five times the highest rating of a low-voltage breaker (200 kA, from memory). */
  ampsMost: 1_000_000,
  wattsMost: 100_000 * 1_000_000,
  /** A second of rows, and what a board held back while its link was busy, with its gaps. */
  rowsSpanS: 600,
  /** Health counts since power-on, or measures: a clock's first setting is 10¹⁵ microseconds. */
  healthMost: Number.MAX_SAFE_INTEGER,
  healthNames: 64,
  healthNameLength: 40,
  wordLength: 120,
  /** An answer lists settings and health, a map in a map. */
  answerDepth: 4,
  answerValues: 256,
  answerTextLength: 1_000,
} as const;
