import { effect, type Signal, signal } from '@preact/signals';

/** A signal that this device remembers; where it may not, it lasts as long as the page. */
export function kept(key: string, initial: string): Signal<string> {
  const place = `stiffline.${key}`;
  const value = signal(read(place) ?? initial);
  effect(() => {
    try {
      localStorage.setItem(place, value.value);
    } catch {
      // Storage is full or forbidden: nothing that a welder could do about it.
    }
  });
  return value;
}

function read(place: string): string | null {
  try {
    return localStorage.getItem(place);
  } catch {
    return null;
  }
}
