import type { Circuit } from '../protocol/circuit.ts';
import type { Place } from '../protocol/judgement.ts';

/** The end of the cord that a sensor sits at. */
export type SensorAt = 'outlet' | 'machine';

/** What the sensor says of itself stands over what was said of its circuit; null: nobody said. */
export const sensorPlace = (
  stated: SensorAt | null | undefined,
  circuit: Circuit | null,
): SensorAt | null => stated ?? circuit?.sensorAt ?? null;

/**
 * Where a voltage is told of. At the machine: there the sensor sits, or the cord from it is
 * described and was taken off. At the outlet alone where nothing is known of what comes after it.
 */
export function placeOf(stated: SensorAt | null | undefined, circuit: Circuit | null): Place {
  const at = sensorPlace(stated, circuit);
  if (at === null) return 'unstated';
  return at === 'outlet' && circuit === null ? 'outlet' : 'machine';
}

/** A circuit as a sensor on it is judged: the sensor knows best where it sits, where it says so. */
export const placed = (
  circuit: Circuit | null,
  stated: SensorAt | null | undefined,
): Circuit | null => (circuit && stated ? { ...circuit, sensorAt: stated } : circuit);
