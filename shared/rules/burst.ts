import type { Finding } from '../protocol/judgement.ts';
import { breakerKind, breakerZone, holdingLimit } from './breaker.ts';
import { breakerWords } from './breaker-words.ts';
import type { ArcEvidence, Setting } from './facts.ts';
import { advise, reading } from './finding.ts';
import { limits } from './limits.ts';
import { say, sayAll } from './say.ts';

/** Of the rule about conductors, receptacle and breaker. */
export const burstRule = 'supply-amps';

/**
 * The r.m.s. of the arc's own current against its breaker: said only over what the breaker must
 * hold. A mean over ten minutes would hide what a burst does to it.
 */
export function burst({ circuit, accuracy }: Setting, arc: ArcEvidence): Finding[] {
  const breaker = circuit?.breakerAmps;
  if (circuit === null || breaker === undefined) return [];
  if (arc.lostFraction > limits.lostShare.value) return [];
  const amps = Math.max(...arc.channels.map(({ meanAmps }) => meanAmps));
  const kind = breakerKind(circuit, breaker);
  const limit = holdingLimit(kind);
  const most = { value: limit.value * breaker, unit: 'A', source: limit.source };
  const measured = reading(amps, accuracy.amps);
  const found = advise(burstRule, measured, most, 'less', () => {
    const { electrician, ...said } = breakerWords(breakerZone(measured.hi, kind), kind, amps);
    const drew = say('burstDrew', { amps, seconds: arc.endS - arc.startS });
    return { ...sayAll(drew, said), electrician, atS: [arc.startS, arc.endS] };
  });
  return found.verdict === 'adequate' ? [] : [found];
}
