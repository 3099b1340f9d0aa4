import type { Sensor, StoredCircuit, StoredPlate } from '../../../shared/protocol/http.ts';
import type { UnsavedCheck } from '../../../shared/protocol/http-check.ts';
import type { CheckAbout, CheckResult } from '../../../shared/protocol/outlet-check.ts';
import { sameCords } from '../../../shared/rules/outlet-check-stale.ts';
import type { CheckSubject, Store } from '../store/store.ts';
import { storedAs } from '../store/stored.ts';

/**
 * What a check is of is what a person says stands at the outlet now. It is held apart from what the
 * shop has stored: a check looks, and changes nothing.
 */
export const asSubject = (sensor: Sensor, { circuit, plate }: CheckSubject): Sensor => ({
  ...sensor,
  circuit,
  plate,
});

/** Whether the sensor's arcs are judged by this already. */
export const hangsSo = (sensor: Sensor, { circuit, plate, otherCords }: CheckSubject): boolean =>
  !otherCords && sensor.circuit?.id === circuit.id && sensor.plate?.id === plate.id;

/** All that is stored of it: a check whose ground changes under it ends. */
export function stoodThen(store: Store, sensor: Sensor, { circuit, plate }: CheckSubject): string {
  const { circuits, plates } = store;
  return JSON.stringify([
    ...[sensor.circuit?.circuit, sensor.plate?.plate],
    ...[circuits.one(circuit.id)?.value, plates.one(plate.id)?.value],
  ]);
}

/** What of a judged check the shop has stored otherwise, for a person to save; null: nothing. */
export function unsavedOf(
  store: Store,
  { of }: CheckAbout,
  result: CheckResult,
  sensor: Sensor | null,
): UnsavedCheck | null {
  const stored = of && store.circuits.one(of.circuit);
  if (!of || !stored || stored.retired || sensor === null) return null;
  const cords = !sameCords(result.cords, stored.value.cords ?? []);
  const assignment = sensor.circuit?.id !== of.circuit || sensor.plate?.id !== of.plate;
  return cords || assignment ? { ...of, cords, assignment } : null;
}

export const storedCircuit = (store: Store, id: number): StoredCircuit | null => {
  const found = store.circuits.one(id);
  return found && storedAs('circuit', found);
};

export const storedPlate = (store: Store, id: number): StoredPlate | null => {
  const found = store.plates.one(id);
  return found && storedAs('plate', found);
};
