import type { Circuit } from '../protocol/circuit.ts';
import type { Plate } from '../protocol/plate.ts';
import { sameCords } from './outlet-check-stale.ts';
import { type Said, say } from './say.ts';

/** What hangs on a sensor: a coupon passes for that and for nothing else. */
export interface Hung {
  plate: Plate | null;
  circuit: Circuit | null;
  sensorAt: 'outlet' | 'machine';
}

/** Every reason why a coupon that was welded on `then` says nothing of `now`; none: it holds. */
export function couponStale(then: Hung, now: Hung): Said[] {
  const wires = ({ circuit }: Hung) => {
    const { cords: _, name: __, sensorAt: ___, ...rest } = circuit ?? {};
    return JSON.stringify(rest);
  };
  const changed = <Part>(part: (hung: Hung) => Part) => ({ was: part(then), now: part(now) });
  const machines = changed(({ plate }) => plate?.name ?? null);
  const circuits = changed(({ circuit }) => circuit?.name ?? null);
  const cords = changed(({ circuit }) => circuit?.cords ?? []);
  const places = changed(({ sensorAt }) => sensorAt);
  const samePlate = JSON.stringify(then.plate) === JSON.stringify(now.plate);
  const sameWires = wires(then) === wires(now) && circuits.was === circuits.now;
  return [
    ...(samePlate ? [] : [say('weldedWith', machines)]),
    ...(sameWires ? [] : [say('weldedOn', circuits)]),
    ...(sameCords(cords.was, cords.now) ? [] : [say('weldedCords', cords)]),
    ...(places.was === places.now ? [] : [say('measuredAt', places)]),
  ];
}
