import type { Signal } from '@preact/signals';
import { type Extent, moved, zoomed } from './extent.ts';

/**
 * One finger moves the picture sideways (up and down still scrolls the page), two spread it. A
 * mouse selects instead, which the chart does by itself.
 */
export function followTouch(
  element: HTMLElement,
  extent: Signal<Extent | null>,
  whole: Extent,
  closest: number | undefined,
): () => void {
  const fingers = new Map<number, number>();
  element.style.touchAction = 'pan-y';

  const down = (event: PointerEvent) => {
    if (event.pointerType !== 'mouse') fingers.set(event.pointerId, event.clientX);
  };
  const up = (event: PointerEvent) => fingers.delete(event.pointerId);
  const move = (event: PointerEvent) => {
    const before = fingers.get(event.pointerId);
    if (before === undefined || element.clientWidth === 0) return;
    const now = extent.value ?? whole;
    const perPixel = (now[1] - now[0]) / element.clientWidth;
    const [other] = [...fingers].filter(([id]) => id !== event.pointerId);
    fingers.set(event.pointerId, event.clientX);
    if (other) {
      const spread = Math.abs(event.clientX - other[1]);
      const spreadBefore = Math.abs(before - other[1]);
      const left = element.getBoundingClientRect().left;
      const about = now[0] + (other[1] - left) * perPixel;
      if (spread > 8) extent.value = zoomed(now, spreadBefore / spread, whole, about, closest);
    } else if (extent.value) {
      extent.value = moved(now, (before - event.clientX) / element.clientWidth, whole);
    }
  };
  element.addEventListener('pointerdown', down);
  element.addEventListener('pointermove', move);
  for (const end of ['pointerup', 'pointercancel', 'pointerleave'] as const)
    element.addEventListener(end, up);
  return () => {
    element.removeEventListener('pointerdown', down);
    element.removeEventListener('pointermove', move);
    for (const end of ['pointerup', 'pointercancel', 'pointerleave'] as const)
      element.removeEventListener(end, up);
  };
}
