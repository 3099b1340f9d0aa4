import { useEffect, useRef, useState } from 'preact/hooks';
import type { ArcSummary } from '../../../../shared/protocol/http.ts';
import type { Verdict } from '../../../../shared/protocol/judgement.ts';
import { isBroken, verdicts } from '../../../../shared/protocol/verdicts.ts';
import { acknowledged, circuits, weakArc } from '../live/floor-state.ts';
import { acknowledge, arcPage } from '../parts/api.ts';
import { clock, figure, when } from '../parts/format.ts';
import { said } from '../parts/said.ts';
import { VerdictMark } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { mayType, signedName, YourName } from '../people/your-name.tsx';
import { fullTitle } from './circuit-card.tsx';

/** As many as one person can go through; the rest comes when these are done. */
const mostShown = 20;
/** Pages of the list of arcs looked through for flags that still stand. */
const mostPages = 10;

/** Arcs with a broken limit that nobody has acknowledged: each stays until a named person has. */
export function Flags({ sensor }: { sensor: string | null }) {
  const [list, setList] = useState<ArcSummary[] | null>(null);
  const [fault, setFault] = useState('');
  const name = useRef<HTMLInputElement>(null);
  const newest = weakArc.value?.id;
  useEffect(() => {
    standing(sensor).then(setList, (error: Error) => setFault(error.message));
  }, [sensor, newest]);

  const seen = async (those: readonly ArcSummary[]) => {
    const by = signedName();
    if (!by && mayType()) {
      setFault(words.flags.nameFirst);
      return name.current?.focus();
    }
    setFault('');
    try {
      for (const arc of those) {
        acknowledged(await acknowledge(arc.id, by));
        setList((now) => now?.filter((each) => each.id !== arc.id) ?? null);
      }
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  const shown = list?.slice(0, mostShown) ?? [];
  const of = sensor === null ? null : circuits.value.get(sensor)?.sensor.value;
  return (
    <main class="narrow">
      <h1 tabIndex={-1}>{of ? words.flags.headingOf(fullTitle(of)) : words.flags.heading}</h1>
      <p>{words.flags.what}</p>
      <YourName field={name} />
      <p class="fault" role="alert">
        {fault}
      </p>
      {list && shown.length === 0 && <p class="empty">{words.flags.none}</p>}
      <ul class="flag-list">
        {shown.map((arc) => (
          <FlagItem key={arc.id} arc={arc} onSeen={() => seen([arc])} />
        ))}
      </ul>
      {shown.length > 1 && (
        <button type="button" class="wide" onClick={() => seen(shown)}>
          {words.flags.all(shown.length)}
        </button>
      )}
    </main>
  );
}

function FlagItem({ arc, onSeen }: { arc: ArcSummary; onSeen(): void }) {
  const place = circuits.value.get(arc.sensor)?.sensor.value;
  return (
    <li>
      <a class="said" href={`#/arc/${arc.id}`}>
        <span class="said-body">
          <VerdictMark verdict={arc.verdict} />
          <span>
            <strong>{place ? fullTitle(place) : arc.sensor}</strong>
            <br />
            {said(arc)}
            <br />
            <small>
              {when(arc.startedAt)} · {figure(arc.durationS)} s ·{' '}
              {arc.plateName ?? words.flags.noMachine}
            </small>
          </span>
        </span>
      </a>
      <button type="button" onClick={onSeen}>
        {words.flags.one}
        <span class="unseen">{words.flags.oneOf(clock(arc.startedAt))}</span>
      </button>
    </li>
  );
}

/** Newest first. */
async function standing(sensor: string | null): Promise<ArcSummary[]> {
  const found = await Promise.all(verdicts.filter(isBroken).map((of) => flagged(sensor, of)));
  return found.flat().sort((a, b) => b.startedAt.localeCompare(a.startedAt));
}

/** The list of arcs is looked through until enough are found. */
async function flagged(sensor: string | null, verdict: Verdict): Promise<ArcSummary[]> {
  const found: ArcSummary[] = [];
  let before: string | null = null;
  for (let page = 0; page < mostPages; page++) {
    const answer: Awaited<ReturnType<typeof arcPage>> = await arcPage({
      ...{ sensor, before, verdict, limit: 200 },
    });
    found.push(...answer.arcs.filter((arc) => !arc.acknowledged && arc.countedBy === null));
    before = answer.next;
    if (before === null || found.length > mostShown) break;
  }
  return found;
}
