import { effect, signal } from '@preact/signals';
import { link } from '../live/floor-state.ts';
import { route } from '../route.ts';

/** True once the server has a newer page than this one. */
export const outdated = signal(false);

/**
 * Keeps the page's own files on this device, where the browser allows it: on this machine itself
 * or behind TLS. Elsewhere the page works the same, and opens only while the server answers.
 */
export function keepShell(): void {
  if (!import.meta.env.PROD) return;
  navigator.serviceWorker?.register('/sw.js').catch(() => {
    // Storage is full or forbidden: the page does without.
  });
  // A part of an older build that is wanted late is gone with its server.
  addEventListener('vite:preloadError', () => {
    outdated.value = true;
  });
  let was = link.peek();
  effect(() => {
    const now = link.value;
    if (now === 'live' && was === 'offline') void compare();
    was = now;
  });
  // Nobody stands at the screen on the wall to press a button.
  effect(() => {
    if (outdated.value && route.value.view === 'wall') location.reload();
  });
}

/** After a break the server may be another build: its page names another entry file. */
async function compare(): Promise<void> {
  const own = document.querySelector<HTMLScriptElement>('script[type=module][src]')?.src;
  if (!own) return;
  try {
    const answer = await fetch('/', { cache: 'no-store' });
    const page = await answer.text();
    if (answer.ok && !page.includes(new URL(own).pathname)) outdated.value = true;
    await (await navigator.serviceWorker?.getRegistration())?.update();
  } catch {
    // Cut off again; the next return compares anew.
  }
}
