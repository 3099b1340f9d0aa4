import type { ArcChannel, Finding } from '../protocol/judgement.ts';
import { held, type LoopLoad, voltsAtMachine } from './at-machine.ts';
import type { ArcEvidence, Rule, Setting, Settled } from './facts.ts';
import { compare, notAsked, thinEvidence } from './finding.ts';
import { tooHigh } from './high-voltage.ts';
import { inVolts, limits } from './limits.ts';
import { type Said, say } from './say.ts';
import { machineVolts } from './wiring.ts';

const id = 'plate-voltage';

/** Lowest 200 ms of the arc against U1 − 10 %; the highest, and idle, against U1 + 10 %. */
export const plateVoltage: Rule<Setting & { arc: ArcEvidence }> = {
  id,
  asks:
    'lowest and highest 200 ms of voltage while the arc burns, at the machine, within ' +
    'U1 ± 10 %',
  required: 'always',
  limits: [limits.plateLow, limits.plateHigh],
  ask(asked) {
    const { rated, arc } = asked;
    if (rated === null) return [notAsked(id, limits.plateLow, say('noPlateForVoltage'))];
    const atS: [number, number] = [arc.startS, arc.endS];
    if (arc.lostFraction > limits.lostShare.value)
      return [
        thinEvidence(id, limits.plateLow, {
          ...say('samplesLost', { part: arc.lostFraction }),
          atS,
          required: true,
        }),
      ];
    return [lowSide(asked, rated.U1, atS), ...highSide(asked, atS)];
  },
};

function lowSide(
  asked: Setting & { arc: ArcEvidence },
  U1: number,
  atS: [number, number],
): Finding {
  const { settled } = asked.arc;
  const loops = settled ? settled.map(steady) : asked.arc.loops.map(hardest);
  const measured = voltsAtMachine(asked, loops, asked.accuracy.volts);
  const limit = inVolts(limits.plateLow, U1);
  return compare(id, measured, limit, 'more', (verdict) => {
    const idle = asked.arc.loops.map((loop) => loop.idleVolts);
    return {
      ...say(heldWords[verdict], held(asked, measured.value, limit.value, loops)),
      electrician: fallWords(idle, measured.value),
      atS,
      required: true,
    };
  });
}

const heldWords = {
  adequate: 'voltageHeld',
  marginal: 'voltageNear',
  underpowered: 'voltageFell',
  unproven: 'voltageFell',
} as const;

/** A sound generator dips for seconds as an arc starts: what it settles at is what it gives. */
const steady = ({ volts, amps }: Settled): LoopLoad => ({ volts, amps, watts: volts * amps });

/** The 200 ms of lowest voltage; its watts from the arc's mean power at the highest current. */
export function hardest(channel: ArcChannel): LoopLoad {
  const { minVolts200ms, maxAmps200ms, meanAmps, meanWatts } = channel;
  const watts = meanAmps > 0 ? (meanWatts / meanAmps) * maxAmps200ms : 0;
  return { volts: minVolts200ms, amps: maxAmps200ms, watts };
}

function fallWords(idle: readonly (number | null)[], low: number): Said | null {
  if (idle.some((each) => each === null)) return null;
  const open = machineVolts(idle as number[]);
  if (open <= low) return null;
  return say('fall', { open, low });
}

/**
 * With the machine idle just before, and the highest 200 ms while it welded: a swell of a second is
 * lost in the mean of a long bead. What was stored before that was kept has the mean alone.
 */
function highSide(asked: Setting & { arc: ArcEvidence }, atS: [number, number]): Finding[] {
  const { loops } = asked.arc;
  const idle = loops.flatMap(({ idleVolts }) => idleVolts ?? []);
  return tooHigh(asked, {
    idle: idle.length > 0 ? Math.max(...idle) : null,
    welding: Math.max(...loops.map((loop) => loop.maxVolts200ms ?? loop.meanVolts)),
    atS,
  });
}
