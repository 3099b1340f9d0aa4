import type { Circuit } from '../protocol/circuit.ts';
import type { Plate } from '../protocol/plate.ts';
import { cordWords, sameCords } from './outlet-check-stale.ts';

/** What hangs on a sensor: a coupon passes for that and for nothing else. */
export interface Hung {
  plate: Plate | null;
  circuit: Circuit | null;
  sensorAt: 'outlet' | 'machine';
}

/** Every reason why a coupon that was welded on `then` says nothing of `now`; none: it holds. */
export function couponStale(then: Hung, now: Hung): string[] {
  const wires = ({ circuit }: Hung) => {
    const { cords: _, name: __, sensorAt: ___, ...rest } = circuit ?? {};
    return JSON.stringify(rest);
  };
  const machine = (hung: Hung) => hung.plate?.name ?? 'no machine named';
  const circuit = (hung: Hung) => hung.circuit?.name ?? 'no circuit named';
  const cords = (hung: Hung) => hung.circuit?.cords ?? [];
  const changed = (words: (hung: Hung) => string) => `${words(then)}; now ${words(now)}`;
  const samePlate = JSON.stringify(then.plate) === JSON.stringify(now.plate);
  return [
    ...(samePlate ? [] : [`Welded with ${changed(machine)}, or its plate was written anew.`]),
    ...(wires(then) === wires(now) && circuit(then) === circuit(now)
      ? []
      : [`Welded on ${changed(circuit)}, or its wiring was written anew.`]),
    ...(sameCords(cords(then), cords(now))
      ? []
      : [`Welded with ${changed((hung) => cordWords(cords(hung)))}.`]),
    ...(then.sensorAt === now.sensorAt
      ? []
      : [`Measured at the ${then.sensorAt}; now at the ${now.sensorAt}.`]),
  ];
}
