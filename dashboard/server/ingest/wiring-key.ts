import { createHash } from 'node:crypto';
import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { SensorAt } from '../../../shared/rules/place.ts';

/**
 * A word for what lies between the mains and a sensor, as it was described: supplies of different
 * words are not held against one another. A cord at an outlet's sensor lies behind it.
 */
export function wiringKey(circuit: Circuit | null, at: SensorAt | null): string {
  if (!circuit) return '';
  const { volts, phases, branch, cords } = circuit;
  const wires = JSON.stringify([volts, phases, branch, at === 'machine' ? cords : null]);
  return createHash('sha256').update(wires).digest('hex').slice(0, 12);
}
