import type { Fraction, Hertz, Seconds } from '../units.ts';

/**
 * IEEE 1159 category of a dip, swell or interruption by how long it lasted and the voltage, per
 * unit, that remained or was reached; null where it is none (a fall that stays above 0.9, a swell
 * higher than its row of the table). Table 2 as quoted by csemag.com ("IEEE 1159 terms"); the rows
 * for sustained interruptions and overvoltages are from memory.
 */
export function variationCategory(
  seconds: Seconds,
  perUnit: Fraction,
  hertz: Hertz,
): string | null {
  const cycles = seconds * hertz;
  if (cycles < 0.5) return null;
  if (perUnit < 0.1) {
    if (seconds > 60) return 'sustained interruption';
    return seconds > 3 ? 'temporary interruption' : 'momentary interruption';
  }
  if (perUnit <= 0.9) {
    if (seconds > 60) return perUnit >= 0.8 ? 'undervoltage' : null;
    if (seconds > 3) return 'temporary sag';
    return cycles > 30 ? 'momentary sag' : 'instantaneous sag';
  }
  if (perUnit < 1.1) return null;
  if (seconds > 60) return perUnit <= 1.2 ? 'overvoltage' : null;
  if (seconds > 3) return perUnit <= 1.2 ? 'temporary swell' : null;
  if (cycles > 30) return perUnit <= 1.4 ? 'momentary swell' : null;
  return perUnit <= 1.8 ? 'instantaneous swell' : null;
}
