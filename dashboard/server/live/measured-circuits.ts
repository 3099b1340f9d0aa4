import type { Sensor } from '../../../shared/protocol/http.ts';
import type { MeasuredSupply, PlannedCircuit } from '../../../shared/protocol/planning.ts';
import { readCircuits } from '../../../shared/protocol/read-planning.ts';
import { wiresInLoop } from '../../../shared/rules/loops.ts';
import type { Store } from '../store/store.ts';
import type { Floor, SupplyAt } from './floor.ts';
import { onMains } from './mains.ts';

/** The shop's circuits, each with its supply where arcs have shown it, as plans take them. */
export function measuredCircuits(store: Store, floor: Floor): PlannedCircuit[] {
  const sensors = floor.sensors();
  const { hertz } = store.settings.get();
  const used = store.circuits.list().filter(({ retired }) => !retired);
  return used.map(({ id, value }) => {
    // Nothing need be taken off at the outlet.
    const on = sensors
      .filter((sensor) => sensor.circuit?.id === id)
      .sort((a, b) => b.at.localeCompare(a.at));
    const circuit = onMains(value, on, hertz);
    for (const sensor of on) {
      const measured = measuredAt(circuit, sensor, floor.supply(sensor.id));
      if (measured) return measured;
    }
    return circuit;
  });
}

/** Null where the estimate is refused, or is none that a plan could take. */
function measuredAt(
  circuit: PlannedCircuit,
  { at }: Sensor,
  supply: SupplyAt | null,
): PlannedCircuit | null {
  const [first] = supply?.evidence.pairs ?? [];
  if (!supply || !first || supply.evidence.pairs.includes(null)) return null;
  const { openVolts, varianceR, varianceX, coverage } = first;
  // A plan takes the ohms of two wires.
  const wires = 2 / wiresInLoop(supply.hangs);
  const [ohmsR, ohmsX] = [wires * first.ohmsR, wires * first.ohmsX];
  const around = (ohms: number, variance: number): [number, number] => {
    const half = wires * coverage * Math.sqrt(variance);
    return [ohms - half, ohms + half];
  };
  const measured: MeasuredSupply = {
    ...{ openVolts, ohmsR, ohmsX },
    ohmsR95: around(ohmsR, varianceR),
    ohmsX95: around(ohmsX, varianceX),
  };
  const planned = { ...circuit, ...(at !== 'unstated' && { sensorAt: at }), supply: measured };
  return readCircuits([planned]).ok ? planned : null;
}
