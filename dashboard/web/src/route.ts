import { signal } from '@preact/signals';

/** Where the page is: `#/` the floor, `#/arc/17` an arc. */
export type Route = { view: 'floor' } | { view: 'arc'; id: number };

export const route = signal<Route>(read(location.hash));

function read(hash: string): Route {
  const arc = /^#\/arc\/(\d+)$/.exec(hash);
  return arc ? { view: 'arc', id: Number(arc[1]) } : { view: 'floor' };
}

addEventListener('hashchange', () => {
  route.value = read(location.hash);
  scrollTo(0, 0);
});
