import type { Finding } from '../protocol/judgement.ts';
import type { Volts } from '../units.ts';
import type { ServiceSeen } from './arrangement.ts';
import type { LegSwing, PhaseEvidence, Setting } from './facts.ts';
import { type Reading, state } from './finding.ts';
import { limits } from './limits.ts';
import { say, sayAll } from './say.ts';

const id = 'phases';

/**
 * Two legs of a split phase: rising on one while the other falls, the neutral between them is
 * failing. What welds across both legs has no current in the neutral, and says nothing of it.
 */
export function legs(
  { accuracy, loops, pairs }: Setting,
  { volts }: ServiceSeen,
  seen: PhaseEvidence | null,
): Finding {
  const [one = 0, two = 0] = seen?.volts ?? volts;
  const between = seen?.between[0] ?? volts[pairs] ?? 0;
  const both = { low: Math.min(one, two), high: Math.max(one, two) };
  const part = (both.high - both.low) / (both.high + both.low);
  const shift: Reading = { value: part, lo: part - accuracy.volts, hi: part + accuracy.volts };
  const limit = limits.legShift;
  const stop = shift.lo > limit.value || isOutside(both, between);
  const opposed = isOpposed(seen?.swing);
  const near = shift.hi > limit.value || opposed;
  const verdict = stop ? 'underpowered' : near ? 'marginal' : 'adequate';
  const good = verdict === 'adequate';
  const across = loops.every((loop) => loop >= pairs);
  const said = good
    ? say('legsTogether', { ...both, between })
    : opposed && !stop
      ? say('legsOpposed', { volts: seen!.swing!.volts, steps: seen!.swing!.steps })
      : say('legsApart', both);
  const words = {
    ...(good && across ? sayAll(said, say('neutralNotTested')) : said),
    electrician: good ? null : say('checkNeutral'),
    atS: seen && ([seen.atS, seen.atS] as [number, number]),
    required: true,
  };
  return {
    ...state(id, verdict, words, limit.source, limit.unit),
    measured: shift.value,
    limit: limit.value,
    margin: limit.value - shift.value,
    interval: [shift.lo, shift.hi],
  };
}

/** A neutral with resistance lifts one leg by what it takes from the other, again and again. */
const isOpposed = (swing: LegSwing | undefined): boolean =>
  swing !== undefined &&
  swing.steps >= limits.swingSteps.value &&
  swing.correlation <= limits.swing.value;

/** A leg out of the range of a 120 V outlet, while both together are what they should be. */
function isOutside({ low, high }: { low: Volts; high: Volts }, whole: Volts): boolean {
  const held = Math.abs(whole / limits.splitWhole.value - 1) <= limits.sumHeld.value;
  return held && (low < limits.legLow.value || high > limits.legHigh.value);
}
