import { effect } from '@preact/signals';
import { link } from '../live/floor-state.ts';
import { me } from './asking.ts';
import { fetchMe } from './people-api.ts';

/** The longest that a browser's timer waits. */
const longestMs = 2 ** 31 - 1;

/** Asks who is at this device whenever the server is heard anew, and when a session ends. */
export function keepMe(): void {
  const ask = () =>
    fetchMe().then(
      (heard) => {
        me.value = heard;
      },
      // Cut off: what was known stands until the server is heard again.
      () => {},
    );
  effect(() => {
    if (link.value === 'live') void ask();
  });
  effect(() => {
    const until = me.value?.until;
    if (!until) return;
    const leftMs = Math.max(1_000, Date.parse(until) - Date.now() + 1_000);
    const timer = setTimeout(ask, Math.min(longestMs, leftMs));
    return () => clearTimeout(timer);
  });
}
