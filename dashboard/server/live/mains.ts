import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { Sensor } from '../../../shared/protocol/http.ts';
import type { ShopSettings } from '../../../shared/protocol/http-settings.ts';

type Mains = ShopSettings['hertz'];

/** A supply runs so near to its nominal frequency, a small generator's too; a dead one at none. */
const nearHertz = 5;

/**
 * 50 or 60 Hz where something is foretold: as the circuit is described, else as it is measured
 * there, else the shop's. Null: nobody knows. What an arc is measured by never comes from here.
 */
export function mainsHertz(
  circuit: Circuit | null,
  sensors: readonly Pick<Sensor, 'reading'>[],
  shop: Mains,
): Mains {
  const measured = ([50, 60] as const).find((nominal) =>
    sensors.some(({ reading }) => reading && Math.abs(reading.hertz - nominal) < nearHertz),
  );
  return circuit?.hertz ?? measured ?? shop;
}

/** The circuit with what is known of its frequency. */
export function onMains<Of extends Circuit>(
  circuit: Of,
  sensors: readonly Pick<Sensor, 'reading'>[],
  shop: Mains,
): Of {
  const hertz = mainsHertz(circuit, sensors, shop);
  return hertz === null ? circuit : { ...circuit, hertz };
}
