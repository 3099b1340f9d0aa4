import type { Finding } from '../protocol/judgement.ts';
import type { Fraction, Seconds } from '../units.ts';
import { type BreakerKind, breakerKind, breakerZone, holdingLimit } from './breaker.ts';
import type { OtherLoadEvidence, OtherStep, Rule, Setting } from './facts.ts';
import { advise, notAsked, state, thinEvidence } from './finding.ts';
import { inVolts, limits } from './limits.ts';
import { type Said, say, sayAll } from './say.ts';

const id = 'other-load';

type Asked = Setting & { others: OtherLoadEvidence };

/**
 * Steps of voltage that the sensor's own current does not explain. One sensor sees that they did
 * not come through it, not where from: a load on the same branch, one elsewhere in the building and
 * a tap of the utility look alike. So what a building does by itself is information, what is more
 * is marginal, and what no load behind this circuit's breaker could make came from above.
 */
export const otherLoad: Rule<Asked> = {
  id,
  asks: 'anything else on a circuit that must be dedicated, as far as one sensor can tell',
  required: 'on a dedicated circuit',
  limits: [limits.buildingStep, limits.buildingSurge],
  ask(asked) {
    const { worst, searched } = asked.others;
    const required = asked.circuit?.dedicated === true;
    const limit = limits.buildingStep;
    if (worst !== null) return [stepFinding(asked, worst, required)];
    if (!required) return [notAsked(id, limit, say('notDedicated'))];
    if (!searched) return [thinEvidence(id, limit, { ...say('othersNotTold'), required })];
    return [state(id, 'adequate', { ...say('noOther'), required }, limit.source, 'V')];
  },
};

/** A step over its limit, a part of it; of one that nothing is left of there is nothing to ask. */
export function howLarge({ volts, surgeVolts, stays, openVolts }: OtherStep): Fraction {
  if (!stays || !(openVolts > 0)) return 0;
  const step = Math.abs(volts) / openVolts / limits.buildingStep.value;
  const surge = Math.abs(surgeVolts) / openVolts / limits.buildingSurge.value;
  return Math.max(step, surge);
}

function stepFinding(asked: Asked, worst: OtherStep, required: boolean): Finding {
  const { count } = asked.others;
  const { atS, volts, surgeVolts, stays, openVolts } = worst;
  const at: [number, number] = [atS, atS];
  const step = { volts: stays ? volts : surgeVolts, atS };
  const breaker = breakerOf(asked);
  if (breaker !== null && isFromAbove(worst, breaker)) {
    const told = say('otherAbove', { ...step, breaker: breaker.ratedAmps });
    return state(id, 'adequate', { ...told, atS: at, required }, holdingLimit(breaker).source, 'V');
  }
  const byStart = howLarge(worst) > howLarge({ ...worst, surgeVolts: 0 });
  const limit = inVolts(byStart ? limits.buildingSurge : limits.buildingStep, openVolts);
  const size = stays ? Math.abs(byStart ? surgeVolts : volts) : 0;
  // The limit is a custom, no line that a reading falls on either side of.
  const measured = { value: size, lo: size, hi: size };
  const finding = advise(id, measured, limit, 'less', (verdict) => {
    if (verdict === 'adequate') {
      const told = stays ? say('otherSmall', step) : say('otherMomentary', step);
      return { ...told, atS: at, required };
    }
    const told = byStart ? say('otherStarts', { ...step, surge: surgeVolts }) : null;
    return {
      ...(told ?? say('otherPerhaps', step)),
      electrician: electricianWords(count, worst, asked),
      atS: at,
      required,
    };
  });
  const half = worst.halfWidthVolts;
  return { ...finding, interval: [Math.max(0, size - half), size + half] };
}

/** No load stays that trips its breaker within these minutes: over 200 % by UL 489. */
const tripsSoon: Seconds = 480;

function breakerOf({ circuit }: Setting): BreakerKind | null {
  const amps = circuit?.breakerAmps;
  return circuit && amps !== undefined ? breakerKind(circuit, amps) : null;
}

/** Even the low end of what would make it here must trip the breaker within minutes. */
function isFromAbove(worst: OtherStep, breaker: BreakerKind): boolean {
  if (worst.ohms === null || !worst.stays) return false;
  const amps = (Math.abs(worst.volts) - worst.halfWidthVolts) / worst.ohms;
  const { zone, seconds } = breakerZone(amps, breaker);
  return zone === 'will' && seconds !== null && seconds <= tripsSoon;
}

/** Amperes here are told only where the breaker could carry them. */
function electricianWords(count: number, worst: OtherStep, { circuit }: Setting): Said {
  const volts = Math.abs(worst.volts);
  const amps = worst.ohms === null ? null : volts / worst.ohms;
  const breaker = circuit?.breakerAmps;
  const carried = amps !== null && breaker !== undefined && amps <= breaker ? amps : null;
  const steps = say('otherSteps', { count, volts, amps: carried });
  return sayAll(steps, say('otherToTell'));
}
