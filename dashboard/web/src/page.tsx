import { useEffect } from 'preact/hooks';
import { AccessCode } from './access-code.tsx';
import { ArcView } from './arc/arc-view.tsx';
import { CircuitView } from './circuit/circuit-view.tsx';
import { Flags } from './floor/flags.tsx';
import { Floor } from './floor/floor.tsx';
import { Wall } from './floor/wall.tsx';
import { heardMs, link, missed } from './live/floor-state.ts';
import { words } from './parts/words.ts';
import { SignIn } from './people/sign-in.tsx';
import { SuggestLead } from './people/who-is-here.tsx';
import type { Route } from './read-route.ts';
import { heading, route } from './route.ts';
import { SettingsView } from './settings/settings-view.tsx';
import { Head } from './shell/head.tsx';
import { outdated } from './shell/keep-shell.ts';
import { LazyRoom } from './shell/lazy-room.tsx';
import { NoServer } from './shell/no-server.tsx';
import { PrintFoot } from './shell/print-foot.tsx';

/** Everything that is on the screen: the head, one view, the cautions. */
export function Page() {
  const where = route.value;
  useEffect(() => {
    document.title = `${words.page.titles[where.view]} – Stiffline`;
  }, [where.view]);
  return (
    <>
      <button type="button" class="skip" onClick={toContent}>
        {words.page.toContent}
      </button>
      <Head view={where.view} />
      <Newer />
      <Missed />
      <SuggestLead />
      <Content where={where} />
      <SignIn />
      <footer class="cautions">
        <p>{words.page.cautions}</p>
        <PrintFoot />
      </footer>
    </>
  );
}

function Content({ where }: { where: Route }) {
  if (link.value === 'locked') return <AccessCode />;
  // Nothing was ever heard: no view has anything to show.
  if (link.value === 'offline' && heardMs.value === null) return <NoServer />;
  return <View where={where} />;
}

function View({ where }: { where: Route }) {
  switch (where.view) {
    case 'floor':
      return <Floor />;
    case 'wall':
      return <Wall />;
    case 'flags':
      return <Flags key={where.sensor} sensor={where.sensor} />;
    case 'circuit':
      return <CircuitView key={where.sensor} id={where.sensor} />;
    case 'arc':
      return <ArcView key={`${where.id} ${where.beside}`} id={where.id} beside={where.beside} />;
    case 'checks':
    case 'check':
    case 'right':
      return <LazyRoom name="check" where={where} />;
    case 'jobs':
    case 'job':
    case 'new-set-up':
    case 'set-up':
    case 'welds':
      return <LazyRoom name="jobs" where={where} />;
    case 'plan':
    case 'shop':
    case 'edit-plate':
    case 'edit-circuit':
    case 'edit-feeder':
    case 'people':
    case 'audit':
      return <LazyRoom name="desk" where={where} />;
    case 'settings':
      return <SettingsView />;
  }
}

function toContent(): void {
  heading()?.focus();
}

/** The server is another build than this page: what one says the other may not understand. */
function Newer() {
  if (!outdated.value) return null;
  return (
    <p class="missed" role="status">
      <span>{words.shell.newer}</span>
      <button type="button" class="plain" onClick={() => location.reload()}>
        {words.shell.loadNewer}
      </button>
    </p>
  );
}

/** After a break: how long it was and what went by. */
function Missed() {
  const gap = missed.value;
  if (!gap) return null;
  return (
    <p class="missed" role="status">
      <span>{words.page.missed(gap.seconds, gap.arcs, gap.weak)}</span>
      <button
        type="button"
        class="plain"
        onClick={() => {
          missed.value = null;
        }}
      >
        {words.page.missedSeen}
      </button>
    </p>
  );
}
