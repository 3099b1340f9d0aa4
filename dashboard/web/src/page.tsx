import { useEffect } from 'preact/hooks';
import { AccessCode } from './access-code.tsx';
import { ArcView } from './arc/arc-view.tsx';
import { BeginCheck } from './check/begin-check.tsx';
import { CheckView } from './check/check-view.tsx';
import { CircuitView } from './circuit/circuit-view.tsx';
import { Flags } from './floor/flags.tsx';
import { Floor } from './floor/floor.tsx';
import { Wall } from './floor/wall.tsx';
import { heardMs, link, missed, rowsLeftOut } from './live/floor-state.ts';
import { clock } from './parts/format.ts';
import { PlanView } from './plan/plan-view.tsx';
import type { Route } from './read-route.ts';
import { RemedyView } from './remedy/remedy-view.tsx';
import { route } from './route.ts';
import { EditCircuit } from './shop/edit-circuit.tsx';
import { EditPlate } from './shop/edit-plate.tsx';
import { Shop } from './shop/shop.tsx';

const names: Record<Route['view'], string> = {
  floor: 'The floor',
  wall: 'The floor, large',
  flags: 'Flagged arcs',
  circuit: 'A circuit',
  arc: 'An arc',
  checks: 'Check an outlet',
  check: 'An outlet check',
  right: 'What would make it right',
  plan: 'Plan machines and circuits',
  shop: 'Plates and circuits',
  'edit-plate': 'A plate',
  'edit-circuit': 'A circuit’s description',
};

/** Everything that is on the screen: the head, one view, the cautions. */
export function Page() {
  const where = route.value;
  useEffect(() => {
    document.title = `${names[where.view]} – Stiffline`;
  }, [where.view]);
  return (
    <>
      <button type="button" class="skip" onClick={toContent}>
        To the content
      </button>
      <header class="top">
        <a class="name" href="#/">
          Stiffline
        </a>
        <nav aria-label="Views">
          <Tab href="#/" words="Floor" here={where.view === 'floor'} />
          <Tab href="#/wall" words="Wall" here={where.view === 'wall'} />
          <Tab href="#/checks" words="Check" here={where.view === 'checks'} />
          <Tab href="#/plan" words="Plan" here={where.view === 'plan'} />
          <Tab href="#/shop" words="Shop" here={where.view === 'shop'} />
        </nav>
        <LinkState />
      </header>
      <Missed />
      {link.value === 'locked' ? <AccessCode /> : <View where={where} />}
      <footer class="cautions">
        <p>
          Adequate says that the electricity was there, never that a weld is sound: test coupons.
          Wiring is for a licensed electrician and the local code. A hot plug, or one leg up while
          the other is down: stop.
        </p>
      </footer>
    </>
  );
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
      return <BeginCheck key={where.sensor} sensor={where.sensor} />;
    case 'check':
      return <CheckView key={where.id} id={where.id} />;
    case 'right':
      return <RemedyView key={where.sensor} sensor={where.sensor} />;
    case 'plan':
      return <PlanView />;
    case 'shop':
      return <Shop />;
    case 'edit-plate':
      return <EditPlate key={where.id} id={where.id} />;
    case 'edit-circuit':
      return <EditCircuit key={where.id} id={where.id} />;
  }
}

function toContent(): void {
  document.querySelector<HTMLElement>('main h1')?.focus();
}

function Tab({ href, words, here }: { href: string; words: string; here: boolean }) {
  return (
    <a href={href} {...(here ? { 'aria-current': 'page' as const } : {})}>
      {words}
    </a>
  );
}

function LinkState() {
  const heard =
    link.value === 'live' || heardMs.value === null
      ? ''
      : ` since ${clock(new Date(heardMs.value).toISOString())}`;
  const words = {
    connecting: 'Connecting …',
    live: 'Live',
    stale: `Stale: nothing heard${heard}`,
    offline: `Cut off${heard}: trying again`,
    locked: 'Access code needed',
  }[link.value];
  return (
    <p class={`link ${link.value}`} role="status">
      <span class={`lamp ${link.value}`} aria-hidden="true" />
      {words}
      {rowsLeftOut.value > 0 && <small> {rowsLeftOut.value} readings left out: slow page</small>}
    </p>
  );
}

/** After a break: how long it was and what went by. */
function Missed() {
  const gap = missed.value;
  if (!gap) return null;
  return (
    <p class="missed" role="status">
      <span>
        This page heard nothing for {gap.seconds} s.{' '}
        {gap.arcs === 0
          ? 'No arc was judged meanwhile.'
          : `Judged meanwhile: ${gap.arcs} ${gap.arcs === 1 ? 'arc' : 'arcs'}.`}{' '}
        The strips show the gap; the history has it.
      </span>
      <button
        type="button"
        class="plain"
        onClick={() => {
          missed.value = null;
        }}
      >
        I see
      </button>
    </p>
  );
}
