import type { Finding } from '../protocol/judgement.ts';
import { breakerKind, breakerZone, holdingLimit } from './breaker.ts';
import { breakerWords } from './breaker-words.ts';
import type { SagEvidence, Setting } from './facts.ts';
import { state } from './finding.ts';
import { limits } from './limits.ts';
import { say, sayAll } from './say.ts';

/**
 * The supply went while the machine drew current. Never that a breaker tripped: that is one of
 * several causes, so what its standard promises at that current is told to the electrician alone.
 */
export function supplyLost({ circuit }: Setting, { lost = null }: SagEvidence): Finding[] {
  if (lost === null) return [];
  const { count, last } = lost;
  const { atS, amps, afterS } = last;
  const said = say('supplyLost', { amps, seconds: afterS, count });
  const breaker = circuit?.breakerAmps;
  if (circuit === null || breaker === undefined) {
    const words = { ...said, electrician: say('lostHow') };
    return [state('sag', 'marginal', { ...words, atS: [atS, atS] }, limits.sag.source)];
  }
  const kind = breakerKind(circuit, breaker);
  const promised = breakerWords(breakerZone(amps, kind), kind, amps);
  const words = { ...said, electrician: sayAll(say('lostHow'), promised) };
  return [state('sag', 'marginal', { ...words, atS: [atS, atS] }, holdingLimit(kind).source, 'A')];
}
