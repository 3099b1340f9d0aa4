import { computed, effect } from '@preact/signals';
import { heardMs, link } from '../live/floor-state.ts';
import { clock, day } from '../parts/format.ts';
import { kept } from '../parts/kept.ts';

/** Written this often while the feed lives: a device that dies knows it to the half minute. */
const keepEveryMs = 30_000;

/** RFC 3339 of the server's last word to this device; empty: never. Outlives the page. */
const lastHeard = kept('heard', '');

/** The same as people say it, with the day where that is not today; null: never heard. */
export const heardSince = computed(() => {
  const iso = lastHeard.value;
  if (!Number.isFinite(Date.parse(iso))) return null;
  const today = day(iso) === day(new Date().toISOString());
  return today ? clock(iso) : `${day(iso)}, ${clock(iso)}`;
});

export function keepLastHeard(): void {
  const note = () => {
    if (heardMs.value !== null) lastHeard.value = new Date(heardMs.value).toISOString();
  };
  setInterval(note, keepEveryMs);
  addEventListener('pagehide', note);
  // Whenever the link changes, so that a page cut off says when.
  effect(() => {
    if (link.value !== 'connecting') queueMicrotask(note);
  });
}
