import { useEffect, useRef } from 'preact/hooks';
import { clock, day } from '../parts/format.ts';
import { words } from '../parts/words.ts';

/** On paper alone: when it was printed and where the record stands. */
export function PrintFoot() {
  const place = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    // At once, not at the next drawing: the paper does not wait.
    const note = () => {
      const now = Date.now();
      if (place.current)
        place.current.textContent = words.shell.printed(
          `${day(now)}, ${clock(now)}`,
          location.href,
        );
    };
    addEventListener('beforeprint', note);
    return () => removeEventListener('beforeprint', note);
  }, []);
  return <p ref={place} class="printed" />;
}
