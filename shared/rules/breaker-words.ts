import type { Amperes } from '../units.ts';
import { type BreakerKind, type BreakerZone, peakAmps } from './breaker.ts';
import { type Said, say, sayAll } from './say.ts';

/** Article 630 lets a breaker be twice the wire's ampacity: that it holds tells nothing of it. */
export const noProof = say('breakerNoProof');

/** What a lasting current may do to a breaker, and what is told to an electrician beside it. */
export function breakerWords(
  { zone, seconds }: BreakerZone,
  kind: BreakerKind,
  amps: Amperes,
): Said & { electrician: Said } {
  const breaker = kind.ratedAmps;
  const figures = { breaker, amps, part: amps / breaker };
  const said = {
    holds: say('breakerHolds', { breaker, amps, seconds }),
    may: sayAll(say('breakerMay', figures), say('breakersDiffer')),
    // Null only where nothing is promised.
    will: sayAll(say('breakerWill', { ...figures, seconds: seconds ?? 0 }), say('breakersDiffer')),
  }[zone];
  const { standard, type } = kind;
  const peak = say('breakerPeak', { standard, type, peak: peakAmps(kind) });
  return { ...said, electrician: sayAll(peak, noProof, say('neverLarger')) };
}
