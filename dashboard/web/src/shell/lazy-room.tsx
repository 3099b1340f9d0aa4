import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { useEffect } from 'preact/hooks';
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
  useEffect(() => {
    if (!come[name].value)
      void rooms[name]().then((room) => {
        come[name].value = room;
      });
  }, [name]);
  const Come = come[name].value;
  if (!Come) return <main class="empty">{words.shop.fetching}</main>;
  return <Come where={where} />;
}
