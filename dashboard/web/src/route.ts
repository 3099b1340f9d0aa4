import { computed, signal } from '@preact/signals';
import { readRoute } from './read-route.ts';

const hash = signal(location.hash);
export const route = computed(() => readRoute(hash.value));

addEventListener('hashchange', () => {
  hash.value = location.hash;
  scrollTo(0, 0);
  setTimeout(toHeading, 0);
});

/** A heading that comes later than this is no answer to what was pressed. */
const patienceMs = 10_000;
let stopWaiting = () => {};

export const heading = (): HTMLElement | null => document.querySelector('main h1');

/**
 * Who reads by ear or keyboard starts at the new view's heading, not in the old one's remains; a
 * view that is still being fetched gets it when it comes, unless the reader has gone on meanwhile.
 */
function toHeading(): void {
  stopWaiting();
  const { activeElement } = document;
  heading()?.focus();
  if (heading()) return;
  const watch = new MutationObserver(() => {
    if (!heading()) return;
    stopWaiting();
    if (document.activeElement === activeElement) heading()?.focus();
  });
  const timer = setTimeout(() => watch.disconnect(), patienceMs);
  stopWaiting = () => {
    clearTimeout(timer);
    watch.disconnect();
  };
  watch.observe(document.body, { childList: true, subtree: true });
}
