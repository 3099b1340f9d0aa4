import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { words } from '../parts/words.ts';
import type { Route } from '../read-route.ts';

type Room = ComponentType<{ where: Route }>;

/** Views that come when somebody asks for them: the floor must not wait for their forms. */
const rooms = {
  jobs: () => import('../jobs/jobs-room.tsx').then(({ JobsRoom }): Room => JobsRoom),
  desk: () => import('../shop/desk-room.tsx').then(({ DeskRoom }): Room => DeskRoom),
};
type Name = keyof typeof rooms;

const come = { jobs: signal<Room | null>(null), desk: signal<Room | null>(null) };

export function LazyRoom({ name, where }: { name: Name; where: Route }) {
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    setFailed(false);
    if (come[name].value) return;
    rooms[name]().then(
      (room) => {
        come[name].value = room;
      },
      () => setFailed(true),
    );
  }, [name]);
  const Come = come[name].value;
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
