import { computed, signal } from '@preact/signals';
import { readRoute } from './read-route.ts';

const hash = signal(location.hash);
export const route = computed(() => readRoute(hash.value));

addEventListener('hashchange', () => {
  hash.value = location.hash;
  scrollTo(0, 0);
  // Who reads by ear or keyboard starts at the new view's heading, not in the old one's remains.
  setTimeout(() => document.querySelector<HTMLElement>('main h1')?.focus(), 0);
});
