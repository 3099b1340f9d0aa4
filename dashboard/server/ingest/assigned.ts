import type { Floor } from '../live/floor.ts';
import type { CheckSubject, SensorRecord, Store } from '../store/store.ts';
import type { Assigned } from './watching.ts';

/** What a sensor's arcs are judged by: what a check that runs is of, else what hangs on it. */
export function assignedTo(record: SensorRecord, store: Store, floor: Floor): Assigned {
  const subject = floor.checks.subject(record.sensor);
  if (subject) return byCheck(subject);
  const plate = record.plate === null ? null : store.plates.one(record.plate);
  const circuit = record.circuit === null ? null : store.circuits.one(record.circuit);
  return {
    plate: plate?.value ?? null,
    circuit: circuit?.value ?? null,
    plateVersion: plate?.version ?? null,
    circuitVersion: circuit?.version ?? null,
    circuitId: record.circuit,
  };
}

/** While a check runs its arcs are of what a person says is there, cord and all. */
const byCheck = ({ circuit, plate, otherCords }: CheckSubject): Assigned => ({
  plate: plate.plate,
  circuit: circuit.circuit,
  plateVersion: plate.version,
  circuitVersion: otherCords ? null : circuit.version,
  circuitId: circuit.id,
});
