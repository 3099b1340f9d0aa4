import type { DropSplit } from '../../../shared/protocol/split.ts';
import { type EndSeen, splitDrop } from '../../../shared/rules/split.ts';
import { seenInArcs } from '../../../shared/watch/seen-in-arcs.ts';
import { settle } from '../../../shared/watch/settle.ts';
import type { ArcRecord } from './store.ts';

/** Two sensors' clocks are set over the network, each by itself: by so much they may differ. */
const clocksApartS = 0.3;

/** Who took the voltage of a weld that both ends of a circuit have seen. */
export function splitOf(outlet: ArcRecord, machine: ArcRecord): DropSplit {
  const { rateHz, pairs, plate, circuit, arc } = machine;
  const setting = settle(
    {
      ...{ rateHz, pairs, startedAt: null, plate },
      nominalVolts: circuit?.volts ?? null,
      nominalHertz: circuit?.hertz ?? null,
      circuit: circuit && { ...circuit, sensorAt: 'machine' },
    },
    seenInArcs([arc], pairs),
    circuit?.hertz ?? null,
  );
  return splitDrop(setting, seenBy(outlet, startOf(outlet, machine)), seenBy(machine));
}

/** The strike is one moment: clocks that differ by little are set by it. */
function startOf(outlet: ArcRecord, machine: ArcRecord): number {
  const apartS = (outlet.startedUs - machine.startedUs) / 1e6;
  return (Math.abs(apartS) < clocksApartS ? machine : outlet).startedUs / 1e6;
}

function seenBy(record: ArcRecord, startS = record.startedUs / 1e6): EndSeen {
  const { arc, supply } = record;
  return { startS, endS: startS + arc.durationS, arc, supply };
}
