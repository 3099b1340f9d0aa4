import type { Finding } from '../protocol/judgement.ts';
import { held, mostAmps, voltsAtMachine } from './at-machine.ts';
import type { ArcEvidence, Rule, SagEvidence, Setting, Strike } from './facts.ts';
import { advise, compare, notAsked, thinEvidence } from './finding.ts';
import { inVolts, limits } from './limits.ts';
import { say } from './say.ts';

const id = 'strike-voltage';

/** The arc is struck into a cold machine's inrush; below its range the machine may cut out. */
export const strikeVoltage: Rule<Setting & { arc: ArcEvidence }> = {
  id,
  asks: 'lowest half cycle in the first 200 ms, at the machine, at least U1 − 10 %',
  required: 'always',
  limits: [limits.plateLow],
  ask(asked) {
    const { rated, arc } = asked;
    if (rated === null) return [notAsked(id, limits.plateLow, say('noPlateForStrike'))];
    const strike = arc.strike.filter((each): each is Strike => each !== null);
    if (strike.length < asked.loops.length || arc.lostFraction > limits.lostShare.value)
      return [
        thinEvidence(id, limits.plateLow, {
          ...say('strikeNotSeen'),
          atS: [arc.startS, arc.endS],
          required: true,
        }),
      ];
    const loops = strike.map((each) => ({ ...each, volts: each.minVoltsHalfCycle }));
    const measured = voltsAtMachine(asked, loops, asked.accuracy.halfCycleVolts);
    const limit = inVolts(limits.plateLow, rated.U1);
    // Every load step makes a generator dip, a sound one by up to a quarter: told, not judged by.
    const dips = arc.settled != null;
    return [
      (dips ? advise : compare)(id, measured, limit, 'more', (verdict) => ({
        ...say(strikeWords[verdict], held(asked, measured.value, limit.value, loops)),
        atS: [arc.startS, Math.min(arc.endS, arc.startS + 0.2)],
        required: !dips,
      })),
    ];
  },
};

const strikeWords = {
  adequate: 'strikeHeld',
  marginal: 'strikeNear',
  underpowered: 'strikeFell',
  unproven: 'strikeFell',
} as const;

/** One surge may be the machine being switched on; from the second they are attempts to weld. */
const leastStrikes = 2;

/** Attempts that struck no arc: what they pulled the voltage down to. */
export function failedStrikes(setting: Setting, { strikes }: SagEvidence): Finding[] {
  const { rated, accuracy } = setting;
  const { count, worst } = strikes;
  if (rated === null || worst === null || count < leastStrikes) return [];
  const loop = { ...worst, volts: worst.minVoltsHalfCycle };
  const measured = voltsAtMachine(setting, [loop], accuracy.halfCycleVolts);
  const limit = inVolts(limits.plateLow, rated.U1);
  return [
    compare(id, measured, limit, 'more', () => ({
      ...say('strikesFailed', {
        ...{ count, low: measured.value, limit: limit.value, amps: mostAmps(setting, [loop]) },
      }),
      atS: [worst.atS, worst.atS],
      required: true,
    })),
  ];
}
