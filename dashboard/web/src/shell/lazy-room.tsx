import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { words } from '../parts/words.ts';
import type { Route } from '../read-route.ts';

type Room = ComponentType<{ where: Route }>;

const room = (fetch: () => Promise<Room>) => ({ fetch, come: signal<Room | null>(null) });

/** Views that come when somebody asks for them: the floor must not wait for their forms. */
const rooms = {
  check: room(() => import('../check/check-room.tsx').then(({ CheckRoom }) => CheckRoom)),
  jobs: room(() => import('../jobs/jobs-room.tsx').then(({ JobsRoom }) => JobsRoom)),
  desk: room(() => import('../shop/desk-room.tsx').then(({ DeskRoom }) => DeskRoom)),
};

export function LazyRoom({ name, where }: { name: keyof typeof rooms; where: Route }) {
  const { fetch, come } = rooms[name];
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    setFailed(false);
    if (come.value) return;
    fetch().then(
      (Come) => {
        come.value = Come;
      },
      () => setFailed(true),
    );
  }, [name]);
  const Come = come.value;
  if (Come) return <Come where={where} />;
  return failed ? <NotFetched /> : <main class="empty">{words.shop.fetching}</main>;
}

/** The server is gone, or has other files than those that this page was built with. */
function NotFetched() {
  return (
    <main class="narrow no-server">
      <h1 tabIndex={-1}>{words.shell.notFetched}</h1>
      <button type="button" class="wide main" onClick={() => location.reload()}>
        {words.shell.tryNow}
      </button>
    </main>
  );
}
