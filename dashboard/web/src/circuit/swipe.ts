/** Shorter is a tap, or the page being scrolled. */
const leastPixels = 24;

/** A finger drawn sideways moves the stretch of time by the same part of its width. */
export function followSwipe(step: (part: number) => void) {
  let began: number | null = null;
  return {
    onPointerDown: (event: PointerEvent) => {
      began = event.pointerType === 'mouse' ? null : event.clientX;
    },
    onPointerUp: (event: PointerEvent) => {
      const { currentTarget } = event;
      if (began === null || !(currentTarget instanceof HTMLElement)) return;
      const moved = event.clientX - began;
      began = null;
      if (Math.abs(moved) >= leastPixels) step(-moved / currentTarget.clientWidth);
    },
    onPointerCancel: () => {
      began = null;
    },
  };
}
