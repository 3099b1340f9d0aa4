import { useEffect, useState } from 'preact/hooks';
import type { ArcSummary } from '../../../../shared/protocol/http.ts';
import type { CouponView, SetUpView } from '../../../../shared/protocol/http-jobs.ts';
import type { Size } from '../../../../shared/protocol/jobs.ts';
import { circuits, link } from '../live/floor-state.ts';
import { nowMs } from '../live/standing.ts';
import { clock, figure } from '../parts/format.ts';
import { said } from '../parts/said.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { HeatLine } from './heat-line.tsx';
import { jobArcs } from './job-api.ts';
import { jobNews } from './job-news.ts';

export const minutes = (seconds: number): string =>
  words.jobs.minutes(figure(seconds / 60, seconds < 600 ? 1 : 0));
export const sizeText = ({ mm, inches }: Size): string =>
  mm === undefined ? `${inches} in` : `${mm} mm`;
export const reasonText = ({ what, why, measured, limit }: CouponView['reasons'][number]) =>
  words.jobs.reason(what, why, measured && sizeText(measured), limit && sizeText(limit));

/** Asked for now, whenever the feed says that a job changed, and when the link came back. */
export function useFresh<T>(
  ask: () => Promise<T>,
  also: unknown,
): [T | null, string, (now: T) => void] {
  const [now, setNow] = useState<T | null>(null);
  const [fault, setFault] = useState('');
  const live = link.value === 'live';
  useEffect(() => {
    let mine = true;
    ask().then(
      (found) => mine && setNow(found),
      (error: Error) => mine && setFault(error.message),
    );
    return () => {
      mine = false;
    };
  }, [jobNews.value, live, also]);
  return [now, fault, setNow];
}

/** Arcs of a set-up, newest first, as they come in. */
export function useArcs(setUp: SetUpView | null): ArcSummary[] {
  const [arcs, setArcs] = useState<ArcSummary[]>([]);
  const newest = setUp && circuits.value.get(setUp.sensor)?.sensor.value.lastArc?.id;
  useEffect(() => {
    let mine = true;
    if (setUp)
      jobArcs(setUp.job, setUp.id, null).then(
        (page) => mine && setArcs(page.arcs),
        // The next arc, or the link's return, asks again.
        () => undefined,
      );
    return () => {
      mine = false;
    };
  }, [setUp?.id, setUp?.stage, newest]);
  return arcs;
}

/** The set-up's clock, as it runs on. */
export function SetUpClock({ setUp }: { setUp: SetUpView }) {
  const { seconds, running, at, long } = setUp.clock;
  const since = running ? Math.max(0, (nowMs.value - Date.parse(at)) / 1_000) : 0;
  const all = Math.floor(seconds + since);
  const two = (value: number) => String(value).padStart(2, '0');
  const hours = Math.floor(all / 3_600);
  return (
    <div class="set-up-clock">
      <p class="figure">
        <span class="value">
          {hours > 0 ? `${hours}:` : ''}
          {two(Math.floor(all / 60) % 60)}:{two(all % 60)}
        </span>
      </p>
      <p class="state">
        <span class={`lamp ${running ? 'live' : ''}`} aria-hidden="true" />
        {running ? words.jobs.running : words.jobs.standing}
      </p>
      <p class="about">
        {setUp.usual ? words.jobs.usual(...setUp.usual.minutes) : words.jobs.noUsual}
      </p>
      {long && <p class="warning">{words.jobs.long}</p>}
    </div>
  );
}

/** One arc in a list: verdict, when, how hot. */
export function ArcLine({ arc }: { arc: ArcSummary }) {
  const { heat, weld } = arc;
  return (
    <a class="said" href={`#/arc/${arc.id}`}>
      <span class="said-body">
        <VerdictMark verdict={arc.verdict} />
        <span>
          <strong class={arc.verdict}>{verdictWord(arc.verdict)}</strong>{' '}
          <small>
            {clock(arc.startedAt)} · {figure(arc.durationS)} s
          </small>
          {heat && (
            <HeatLine heat={heat} more={weld?.on === 'untested' ? words.jobs.untested : ''} />
          )}
          <small class="says">{said(arc)}</small>
        </span>
      </span>
    </a>
  );
}

/** Answers a press with the set-up as it is then, or says why not. */
export type Done = (asked: Promise<SetUpView>) => void;

export function Cautions() {
  return (
    <ul class="about cautions-list">
      {words.jobs.cautions.map((says) => (
        <li key={says}>{says}</li>
      ))}
    </ul>
  );
}
