import type { Amperes } from '../units.ts';
import { type BreakerKind, type BreakerZone, peakAmps } from './breaker.ts';
import { type Said, say, sayAll } from './say.ts';

/** Article 630 lets a breaker be twice the wire's ampacity: that it holds tells nothing of it. */
export const noProof = say('breakerNoProof');
const differ = say('breakersDiffer');
const neverLarger = say('neverLarger');

/** What a lasting current may do to a breaker, and what is told to an electrician beside it. */
export function breakerWords(
  { zone, seconds }: BreakerZone,
  kind: BreakerKind,
  amps: Amperes,
): Said & { electrician: Said } {
  const { standard, type } = kind;
  const peak = say('breakerPeak', { standard, type, peak: peakAmps(kind) });
  const said = zoneWords({ zone, seconds }, kind.ratedAmps, amps);
  return { ...said, electrician: sayAll(peak, noProof, neverLarger) };
}

function zoneWords({ zone, seconds }: BreakerZone, breaker: Amperes, amps: Amperes): Said {
  if (zone === 'holds') return say('breakerHolds', { breaker, amps, seconds });
  const figures = { breaker, amps, part: amps / breaker };
  if (zone === 'may') return sayAll(say('breakerMay', figures), differ);
  // Null only where nothing is promised.
  return sayAll(say('breakerWill', { ...figures, seconds: seconds ?? 0 }), differ);
}
