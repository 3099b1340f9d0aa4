import type { ArcChannel, Finding } from '../protocol/judgement.ts';
import { cordRemark, mostAmps, type PairLoad, voltsAtMachine } from './at-machine.ts';
import type { ArcEvidence, Rule, Setting } from './facts.ts';
import { compare, notAsked, reading, thinEvidence } from './finding.ts';
import { inVolts, limits } from './limits.ts';
import { machineVolts, supplyVolts } from './wiring.ts';
import { amps, percent, volts } from './words.ts';

const id = 'plate-voltage';

/** Lowest 200 ms of the arc against U1 − 10 %; the highest voltage seen against U1 + 10 %. */
export const plateVoltage: Rule<Setting & { arc: ArcEvidence }> = {
  id,
  asks: 'lowest 200 ms of voltage while the arc burns, at the machine, within U1 ± 10 %',
  required: 'always',
  limits: [limits.plateLow, limits.plateHigh],
  ask(asked) {
    const { rated, arc } = asked;
    if (rated === null)
      return [notAsked(id, limits.plateLow, 'No rating plate was given to hold the voltage to.')];
    const atS: [number, number] = [arc.startS, arc.endS];
    if (arc.lostFraction > limits.lostShare.value)
      return [
        thinEvidence(id, limits.plateLow, {
          says: `${percent(arc.lostFraction, 0)} of this arc's samples were lost on the way.`,
          atS,
          required: true,
        }),
      ];
    return [lowSide(asked, rated.U1, atS), ...highSide(asked, rated.U1, atS)];
  },
};

function lowSide(
  asked: Setting & { arc: ArcEvidence },
  U1: number,
  atS: [number, number],
): Finding {
  const pairs = asked.arc.channels.map(hardest);
  const measured = voltsAtMachine(asked, pairs, asked.accuracy.volts);
  const limit = inVolts(limits.plateLow, U1);
  return compare(id, measured, limit, 'more', (verdict) => {
    const low = volts(measured.value, limit.value);
    const voltage = `The voltage${cordRemark(asked)}`;
    const needs = volts(limit.value, measured.value);
    const at = amps(mostAmps(pairs));
    const says = {
      adequate: `${voltage} held at ${low} or more at ${at}; the plate needs ${needs}.`,
      marginal: `${voltage} fell to ${low} at ${at}, too near the ${needs} that the plate needs.`,
      underpowered: `${voltage} fell to ${low} at ${at}; the plate needs ${needs}.`,
      unproven: '',
    }[verdict];
    const idle = asked.arc.channels.map((channel) => channel.idleVolts);
    return { says, electrician: fallWords(asked, idle, measured.value), atS, required: true };
  });
}

/** The 200 ms of lowest voltage; its watts from the arc's mean power at the highest current. */
function hardest(channel: ArcChannel): PairLoad {
  const { minVolts200ms, maxAmps200ms, meanAmps, meanWatts } = channel;
  const watts = meanAmps > 0 ? (meanWatts / meanAmps) * maxAmps200ms : 0;
  return { volts: minVolts200ms, amps: maxAmps200ms, watts };
}

function fallWords(setting: Setting, idle: readonly (number | null)[], low: number): string | null {
  if (idle.some((each) => each === null)) return null;
  const open = machineVolts(idle as number[], setting.perPair);
  if (open <= low) return null;
  return (
    `From ${volts(open, low)} with the machine idle to ${volts(low, open)} under load: ` +
    `a fall of ${percent((open - low) / open)}.`
  );
}

/** Says something only where the voltage is too high, or nearly so. */
function highSide(
  asked: Setting & { arc: ArcEvidence },
  U1: number,
  atS: [number, number],
): Finding[] {
  const { channels } = asked.arc;
  // Idle and loaded apart: the highest of each leg need not have been at one time.
  const together = Math.max(
    supplyVolts(
      channels.map((each) => each.idleVolts ?? 0),
      asked.perPair,
    ),
    supplyVolts(
      channels.map((each) => each.meanVolts),
      asked.perPair,
    ),
  );
  const limit = inVolts(limits.plateHigh, U1);
  const measured = reading(together, asked.accuracy.volts);
  const finding = compare(id, measured, limit, 'less', () => ({
    says:
      `The voltage is ${volts(together, limit.value)}, more than the ` +
      `${volts(limit.value, together)} that the plate allows: the machine can be damaged.`,
    electrician: 'Check the supply class and the transformer taps.',
    atS,
    required: true,
  }));
  return finding.verdict === 'adequate' ? [] : [finding];
}
