import { signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { heardMs, link, rowsLeftOut } from '../live/floor-state.ts';
import { clock } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { WhoIsHere } from '../people/who-is-here.tsx';
import type { Route } from '../read-route.ts';
import { heardSince } from './last-heard.ts';

type Tab = keyof typeof words.page.tabs;

/** What a hand in a glove wants on a phone stands first; a wide screen has room for all. */
const first: readonly (readonly [Tab, string, readonly Route['view'][]])[] = [
  ['floor', '#/', ['floor', 'flags', 'circuit', 'arc']],
  ['check', '#/checks', ['checks', 'check', 'right']],
  ['jobs', '#/jobs', ['jobs', 'job', 'new-set-up', 'set-up', 'welds']],
];
const further: typeof first = [
  ['wall', '#/wall', ['wall']],
  ['plan', '#/plan', ['plan']],
  ['shop', '#/shop', ['shop', 'edit-plate', 'edit-circuit', 'edit-feeder']],
  ['settings', '#/settings', ['settings']],
];

const open = signal(false);

/** The name, how the page hears the server, and the ways. */
export function Head({ view }: { view: Route['view'] }) {
  const more = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    open.value = false;
  }, [view]);
  const onKey = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || !open.value) return;
    open.value = false;
    more.current?.focus();
  };
  const tab = ([name, href, views]: (typeof first)[number]) => (
    <a
      key={name}
      href={href}
      class={views.includes(view) ? 'here' : ''}
      {...(views[0] === view ? { 'aria-current': 'page' as const } : {})}
      onClick={close}
    >
      {words.page.tabs[name]}
    </a>
  );
  return (
    <header class="top">
      <a class="name" href="#/">
        Stiffline
      </a>
      <nav aria-label={words.page.views} class={open.value ? 'open' : ''} onKeyDown={onKey}>
        {first.map(tab)}
        <button
          ref={more}
          type="button"
          class="more"
          aria-expanded={open.value}
          aria-controls="further"
          onClick={() => {
            open.value = !open.value;
          }}
        >
          {words.page.more}
        </button>
        <div id="further" class="further">
          {further.map(tab)}
        </div>
      </nav>
      <WhoIsHere />
      <LinkState />
    </header>
  );
}

function close(): void {
  open.value = false;
}

function LinkState() {
  const here = heardMs.value === null ? null : clock(new Date(heardMs.value).toISOString());
  const says = words.page.link[link.value];
  return (
    <p class={`link ${link.value}`} role="status">
      <span class={`lamp ${link.value}`} aria-hidden="true" />
      {typeof says === 'string' ? says : says(here ?? heardSince.value)}
      {rowsLeftOut.value > 0 && <small> {words.page.leftOut(rowsLeftOut.value)}</small>}
    </p>
  );
}
