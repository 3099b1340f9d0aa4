import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { words } from '../parts/words.ts';
import type { Route } from '../read-route.ts';

type Room = typeof import('./jobs-room.tsx');
const room = signal<Room | null>(null);

/** Job sheets come when somebody asks for them: the floor must not wait for their forms. */
export function LazyJobs({ where }: { where: Route }) {
  useEffect(() => {
    if (!room.value)
      void import('./jobs-room.tsx').then((loaded) => {
        room.value = loaded;
      });
  }, []);
  if (!room.value) return <main class="empty">{words.jobs.fetching}</main>;
  return <room.value.JobsRoom where={where} />;
}
