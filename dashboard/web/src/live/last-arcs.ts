import { effect } from '@preact/signals';
import { arcDetail } from '../parts/api.ts';
import { circuits } from './floor-state.ts';

/** Fetches the judgement of each sensor's last arc once, so that a page just opened has ladders. */
export function keepLastArcs(): void {
  /** Arc asked for, by sensor. */
  const asked = new Map<string, number>();
  effect(() => {
    for (const [id, circuit] of circuits.value) {
      const last = circuit.sensor.peek().lastArc;
      if (!last || circuit.arc.peek() || asked.get(id) === last.id) continue;
      asked.set(id, last.id);
      arcDetail(last.id).then(
        ({ arc }) => {
          circuit.arc.value ??= arc;
        },
        // The card does without; the arc's own page tells what is wrong.
        () => asked.delete(id),
      );
    }
  });
}
