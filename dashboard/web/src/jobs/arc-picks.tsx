import type { ArcSummary } from '../../../../shared/protocol/http.ts';
import { when } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { ArcLine } from './parts.tsx';

interface ArcPicksProps {
  arcs: readonly ArcSummary[];
  not: readonly number[];
  onNot(not: readonly number[]): void;
}

/** Arcs with a tick each; those in `not` are left out. */
export function ArcPicks({ arcs, not, onNot }: ArcPicksProps) {
  if (arcs.length === 0) return <p class="empty">{words.jobs.noArcs}</p>;
  const turn = (id: number) =>
    onNot(not.includes(id) ? not.filter((each) => each !== id) : [...not, id]);
  return (
    <ul class="arcs">
      {arcs.map((arc) => (
        <li key={arc.id}>
          <label class="pick">
            <input type="checkbox" checked={!not.includes(arc.id)} onChange={() => turn(arc.id)} />
            <span class="unseen">{words.jobs.belongs(when(arc.startedAt))}</span>
          </label>
          <ArcLine arc={arc} />
        </li>
      ))}
    </ul>
  );
}
