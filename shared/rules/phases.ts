import type { Finding } from '../protocol/judgement.ts';
import type { PhaseEvidence, Rule, Setting } from './facts.ts';
import { advise, notAsked, type Reading, reading, state } from './finding.ts';
import { limits } from './limits.ts';
import { say } from './say.ts';

const id = 'phases';
type Asked = Setting & { phases: PhaseEvidence | null };

/** A lost phase starves the machine; a lost neutral can burn the shop down. */
export const phases: Rule<Asked> = {
  id,
  asks: 'missing or unbalanced phase; one leg up and the other down (neutral)',
  required: 'always',
  limits: [limits.missingPhase, limits.unbalance, limits.legShift],
  ask(asked) {
    const { plate, circuit, pairs, phases: seen } = asked;
    if (plate?.phases === 3 && circuit?.phases === 1)
      return [
        state(id, 'unsuited', {
          ...say('threePhasesNeeded'),
          required: true,
        }),
      ];
    if (pairs === 1 || seen === null) return [notAsked(id, limits.unbalance, say('onePair'))];
    const missing = legsHold(asked, seen) ? null : missingPhase(seen);
    if (missing) return [missing];
    return [pairs === 2 ? legs(asked, seen) : balance(asked, seen)];
  },
};

/** Two legs that add up to the whole have lost nothing but the point between them. */
function legsHold({ perPair, nominalVolts }: Asked, seen: PhaseEvidence): boolean {
  if (perPair !== 2 || nominalVolts === null) return false;
  const together = seen.volts.reduce((sum, each) => sum + each, 0);
  return together > 0.75 * nominalVolts;
}

function missingPhase({ volts: each, atS }: PhaseEvidence): Finding | null {
  const highest = Math.max(...each);
  const lowest = Math.min(...each);
  if (lowest >= highest * limits.missingPhase.value) return null;
  const at = each.indexOf(lowest) + 1;
  return {
    ...state(
      id,
      'underpowered',
      {
        ...say('phaseMissing', { phase: at, low: lowest, high: highest }),
        electrician: say('lookForFuse'),
        atS: [atS, atS],
        required: true,
      },
      limits.missingPhase.source,
      'V',
    ),
    measured: lowest,
    limit: highest * limits.missingPhase.value,
    margin: lowest - highest * limits.missingPhase.value,
  };
}

/** Rising on one leg while the other falls: the neutral between them is failing. */
function legs(asked: Asked, { volts: each, atS }: PhaseEvidence): Finding {
  const [one = 0, two = 0] = each;
  const middle = (one + two) / 2;
  const shift = Math.abs(one - two) / 2 / middle;
  const words = {
    atS: [atS, atS] as [number, number],
    required: true,
  };
  const measured = reading(shift, 0);
  const wide = { value: shift, lo: shift - asked.accuracy.volts, hi: shift + asked.accuracy.volts };
  const both = { low: Math.min(one, two), high: Math.max(one, two) };
  if (asked.perPair !== 2)
    return {
      ...advise(id, measured, limits.unbalance, 'less', () => ({
        ...say('twoPairs', both),
        ...words,
      })),
      required: false,
    };
  return {
    ...legShift(wide, both),
    ...words,
  };
}

function legShift(shift: Reading, both: { low: number; high: number }) {
  const limit = limits.legShift;
  const verdict =
    shift.lo > limit.value ? 'underpowered' : shift.hi > limit.value ? 'marginal' : 'adequate';
  const good = verdict === 'adequate';
  const words = {
    ...say(good ? 'legsTogether' : 'legsApart', both),
    electrician: good ? null : say('checkNeutral'),
  };
  return {
    ...state(id, verdict, words, limit.source, limit.unit),
    measured: shift.value,
    limit: limit.value,
    margin: limit.value - shift.value,
    interval: [shift.lo, shift.hi] as [number, number],
  };
}

/** Largest deviation from the mean of three, as part of the mean. */
function balance({ accuracy }: Asked, { volts: each, atS }: PhaseEvidence): Finding {
  const mean = each.reduce((sum, one) => sum + one, 0) / each.length;
  const off = Math.max(...each.map((one) => Math.abs(one - mean))) / mean;
  const measured = { value: off, lo: off - accuracy.volts, hi: off + accuracy.volts };
  return advise(id, measured, limits.unbalance, 'less', () => ({
    ...say('phasesDiffer', { part: off, usual: limits.unbalance.value }),
    atS: [atS, atS],
    required: true,
  }));
}
