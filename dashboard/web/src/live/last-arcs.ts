import { effect } from '@preact/signals';
import { arcDetail } from '../parts/api.ts';
import { circuits } from './floor-state.ts';

/** Fetches the judgement of each sensor's last arc once, so that a page just opened has ladders. */
export function keepLastArcs(): void {
  const asked = new Set<string>();
  effect(() => {
    for (const [id, circuit] of circuits.value) {
      const last = circuit.sensor.peek().lastArc;
      if (asked.has(id) || circuit.arc.peek() || !last) continue;
      asked.add(id);
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
