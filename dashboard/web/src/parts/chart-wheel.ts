import type { Signal } from '@preact/signals';
import { type Extent, moved, zoomed } from './extent.ts';

/** Pixels of a line, for wheels that count in lines. */
const linePixels = 16;
/** Of one event: a notch of a wheel is a hundred pixels, a step on a touch pad a few. */
const mostPixels = 50;

/**
 * With Ctrl held, as two fingers on a touch pad also come, a wheel looks closer where it points;
 * sideways, or with Shift held, it moves a picture that is closer. Alone it scrolls the page.
 */
export function followWheel(
  element: HTMLElement,
  extent: Signal<Extent | null>,
  whole: Extent,
  closest: number | undefined,
): () => void {
  const turn = (event: WheelEvent) => {
    const width = element.clientWidth;
    if (width === 0) return;
    const pixels = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? linePixels : 1;
    const [x, y] = [event.deltaX * pixels, event.deltaY * pixels];
    const now = extent.value ?? whole;
    if (event.ctrlKey) {
      const part = (event.clientX - element.getBoundingClientRect().left) / width;
      const about = now[0] + part * (now[1] - now[0]);
      const factor = Math.exp(Math.max(-mostPixels, Math.min(mostPixels, y)) / 100);
      extent.value = zoomed(now, factor, whole, about, closest);
    } else if (extent.value && (event.shiftKey || Math.abs(x) > Math.abs(y)))
      extent.value = moved(now, (x || y) / width, whole);
    else return;
    event.preventDefault();
  };
  element.addEventListener('wheel', turn, { passive: false });
  return () => element.removeEventListener('wheel', turn);
}
