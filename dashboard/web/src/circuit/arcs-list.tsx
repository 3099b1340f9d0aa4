import { useEffect, useState } from 'preact/hooks';
import type { ArcDetail, ArcPage, ArcSummary } from '../../../../shared/protocol/http.ts';
import type { Circuit } from '../live/floor-state.ts';
import { arcDetail, arcPage, arcsFile } from '../parts/api.ts';
import { clock, figure, when } from '../parts/format.ts';
import { said } from '../parts/said.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { withNewest, withOlder } from './arc-pages.ts';
import { EnoughChart } from './enough-chart.tsx';

const pageLength = 8;

/**
 * Arcs of this circuit, newest first, a page of them until more are asked for: the list does not
 * grow by itself through a day of welding. Two that are ticked are put side by side.
 */
export function ArcsList({ circuit }: { circuit: Circuit }) {
  const { id, lastArc } = circuit.sensor.value;
  const [known, setKnown] = useState<ArcPage | null>(null);
  const [shown, setShown] = useState(pageLength);
  const [last, setLast] = useState<ArcDetail | null>(null);
  const [picked, setPicked] = useState<number[]>([]);
  const newest = lastArc?.id;
  useEffect(() => {
    let mine = true;
    arcPage({ sensor: id, limit: pageLength }).then(
      (page) => mine && setKnown((now) => withNewest(page, now)),
      quiet,
    );
    if (newest !== undefined) arcDetail(newest).then((found) => mine && setLast(found), quiet);
    return () => {
      mine = false;
    };
  }, [id, newest]);
  const { arcs = [], next = null } = known ?? {};
  const list = arcs.slice(0, shown);
  const more = () => {
    setShown(shown + pageLength);
    if (arcs.length >= shown + pageLength || next === null) return;
    arcPage({ sensor: id, limit: pageLength, before: next }).then(
      (page) => setKnown((now) => withOlder(page, now)),
      quiet,
    );
  };
  const pick = (arc: number) =>
    setPicked((now) =>
      now.includes(arc) ? now.filter((each) => each !== arc) : [...now, arc].slice(-2),
    );
  return (
    <section>
      <h2>{words.circuit.arcs.heading}</h2>
      {list.length === 0 && <p class="empty">{words.circuit.arcs.none}</p>}
      <div class="two-up">
        <EnoughChart arcs={list} last={last} />
        <ul class="arcs">
          {list.map((arc) => (
            <ArcItem key={arc.id} arc={arc} picked={picked.includes(arc.id)} onPick={pick} />
          ))}
        </ul>
      </div>
      <p class="actions">
        {(next !== null || arcs.length > shown) && (
          <button type="button" onClick={more}>
            {words.circuit.arcs.earlier}
          </button>
        )}
        {picked.length === 2 && (
          <a class="button main" href={`#/arc/${picked[0]}/beside/${picked[1]}`}>
            {words.circuit.arcs.beside}
          </a>
        )}
        {list.length > 0 && (
          <a class="button" href={arcsFile(id)} download>
            {words.circuit.arcs.save}
          </a>
        )}
      </p>
    </section>
  );
}

/** The list stays as it is; a page that is open learns of it by the state of its link. */
const quiet = () => undefined;

interface ArcItemProps {
  arc: ArcSummary;
  picked: boolean;
  onPick(id: number): void;
}

function ArcItem({ arc, picked, onPick }: ArcItemProps) {
  return (
    <li>
      <label class="pick">
        <input type="checkbox" checked={picked} onChange={() => onPick(arc.id)} />
        <span class="unseen">{words.circuit.arcs.compare(clock(arc.startedAt))}</span>
      </label>
      <a class="said" href={`#/arc/${arc.id}`}>
        <span class="said-body">
          <VerdictMark verdict={arc.verdict} />
          <span>
            <strong class={arc.verdict}>{verdictWord(arc.verdict)}</strong>{' '}
            <small>
              {when(arc.startedAt)} · {figure(arc.durationS)} s
              {arc.acknowledged && ` · ${words.circuit.arcs.acknowledged(arc.acknowledged.by)}`}
            </small>
            <br />
            {said(arc)}
          </span>
        </span>
      </a>
    </li>
  );
}
