import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { useEffect } from 'preact/hooks';
import { words } from '../parts/words.ts';
import type { Route } from '../read-route.ts';

const room = signal<ComponentType<{ where: Route }> | null>(null);

/** Job sheets come when somebody asks for them: the floor must not wait for their forms. */
export function LazyJobs({ where }: { where: Route }) {
  useEffect(() => {
    if (!room.value)
      void import('./jobs-room.tsx').then(({ JobsRoom }) => {
        room.value = JobsRoom;
      });
  }, []);
  const Room = room.value;
  if (!Room) return <main class="empty">{words.jobs.fetching}</main>;
  return <Room where={where} />;
}
