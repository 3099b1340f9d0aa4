import { render } from 'preact';
import 'uplot/dist/uPlot.min.css';
import './tokens.css';
import './page.css';
import { ArcView } from './arc-view.tsx';
import { keepFeed } from './feed.ts';
import { Floor } from './floor.tsx';
import { heardMs, link, rowsLeftOut } from './floor-state.ts';
import { clock } from './format.ts';
import { route } from './route.ts';

function Page() {
  const where = route.value;
  return (
    <>
      <a class="skip" href="#content">
        To the content
      </a>
      <header class="top">
        <a class="name" href="#/">
          Stiffline
        </a>
        <LinkState />
      </header>
      <div id="content">
        {where.view === 'floor' ? <Floor /> : <ArcView key={where.id} id={where.id} />}
      </div>
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

function LinkState() {
  const heard =
    heardMs.value === null ? '' : ` since ${clock(new Date(heardMs.value).toISOString())}`;
  const words = {
    connecting: 'Connecting …',
    live: 'Live',
    stale: `Stale: nothing heard${heard}`,
    offline: `Cut off${heard}: trying again`,
  }[link.value];
  return (
    <p class={`link ${link.value}`} role="status">
      <span class={`lamp ${link.value}`} aria-hidden="true" />
      {words}
      {rowsLeftOut.value > 0 && <small> {rowsLeftOut.value} readings left out: slow page</small>}
    </p>
  );
}

keepFeed();
render(<Page />, document.getElementById('page')!);
