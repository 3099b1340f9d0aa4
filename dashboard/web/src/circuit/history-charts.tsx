import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { History } from '../../../../shared/protocol/http.ts';
import type { OtherLoadList } from '../../../../shared/protocol/http-supply.ts';
import { type Circuit, clockOffsetMs } from '../live/floor-state.ts';
import { useTick } from '../live/standing.ts';
import { history, historyFile, otherLoads } from '../parts/api.ts';
import { Chart } from '../parts/chart.tsx';
import { day, minute } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { historyFacts } from './history-facts.ts';
import { OtherLoads } from './other-loads.tsx';
import { followSwipe } from './swipe.ts';

const spans = [
  ['tenMinutes', 600],
  ['hour', 3_600],
  ['shift', 8 * 3_600],
  ['day', 86_400],
  ['week', 7 * 86_400],
] as const;
/** While the newest is shown it is fetched anew this often. */
const followMs = 10_000;
const points = 600;

interface Seen {
  answer: History;
  loads: OtherLoadList;
}

/** Hours at once: of each stretch of time the lowest and the highest half cycle. */
export function HistoryCharts({ circuit }: { circuit: Circuit }) {
  const { id } = circuit.sensor.value;
  const say = words.circuit.history;
  const [spanS, setSpanS] = useState<number>(spans[0][1]);
  /** Null follows the present. */
  const [endMs, setEndMs] = useState<number | null>(null);
  const { seen, fault } = useHistory(id, spanS, endMs);
  const step = (part: number) => {
    const end = (endMs ?? Date.now()) + part * spanS * 1_000;
    setEndMs(end >= Date.now() ? null : end);
  };
  const widen = (by: number) => {
    const at = spans.findIndex(([, seconds]) => seconds === spanS) + by;
    setSpanS(spans[Math.min(spans.length - 1, Math.max(0, at))]![1]);
  };
  const onKeyDown = keysFor(step, widen, () => setEndMs(null));
  // The page is drawn anew while time goes by: a finger on it must not be forgotten.
  const latest = useRef(step);
  latest.current = step;
  const swipe = useMemo(() => followSwipe((part) => latest.current(part)), []);
  const facts = useMemo(() => seen && historyFacts(seen.answer, seen.loads, circuit), [seen]);
  return (
    <section>
      <h2>{say.heading}</h2>
      <div class="tools">
        <Spans spanS={spanS} onSpan={setSpanS} />
        <button type="button" onClick={() => step(-0.5)}>
          <span aria-hidden="true">←</span> {say.earlier}
        </button>
        <button type="button" disabled={endMs === null} onClick={() => step(0.5)}>
          {say.later} <span aria-hidden="true">→</span>
        </button>
        <button type="button" aria-pressed={endMs === null} onClick={() => setEndMs(null)}>
          {say.now}
        </button>
        {seen && <SaveHistory id={id} answer={seen.answer} />}
      </div>
      {seen && <p class="source">{stretch(seen.answer)}</p>}
      <p class="fault" role="alert">
        {fault}
      </p>
      <section class="swiped" aria-label={say.heading} {...{ tabIndex: 0, onKeyDown, ...swipe }}>
        {facts?.map((each, at) => (
          <Chart key={at === 0 ? 'V' : 'A'} facts={each} />
        ))}
      </section>
      {seen && <OtherLoads list={seen.loads} />}
    </section>
  );
}

/** From when to when, with the day: the axis has the time of day alone. */
function stretch({ from, to }: History): string {
  const [begun, ended] = [day(from), day(to)];
  const until = begun === ended ? minute(to) : `${ended} ${minute(to)}`;
  return words.circuit.history.stretch(`${begun} ${minute(from)}`, until);
}

/** The stretch that ends at `endMs`, or now; then it is fetched anew as time goes by. */
function useHistory(id: string, spanS: number, endMs: number | null) {
  const [seen, setSeen] = useState<Seen | null>(null);
  const [fault, setFault] = useState('');
  const now = useTick(followMs);
  const tick = endMs === null ? now : 0;
  useEffect(() => {
    let mine = true;
    const to = endMs ?? Date.now() + clockOffsetMs.peek();
    const from = to - spanS * 1_000;
    Promise.all([history(id, from, to, points), otherLoads(id, from, to)]).then(
      ([answer, loads]) => {
        if (!mine) return;
        setSeen({ answer, loads });
        setFault('');
      },
      (error: Error) => mine && setFault(error.message),
    );
    return () => {
      mine = false;
    };
  }, [id, spanS, endMs, tick]);
  return { seen, fault };
}

function keysFor(step: (part: number) => void, widen: (by: number) => void, now: () => void) {
  const keys: Record<string, () => void> = {
    ArrowLeft: () => step(-0.25),
    ArrowRight: () => step(0.25),
    '+': () => widen(-1),
    '-': () => widen(1),
    Home: now,
  };
  return (event: KeyboardEvent) => {
    const act = keys[event.key];
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    act();
  };
}

function SaveHistory({ id, answer: { from, to } }: { id: string; answer: History }) {
  return (
    <a class="button" href={historyFile(id, Date.parse(from), Date.parse(to))} download>
      {words.circuit.history.save}
    </a>
  );
}

function Spans({ spanS, onSpan }: { spanS: number; onSpan(seconds: number): void }) {
  const say = words.circuit.history;
  return (
    <fieldset class="choices">
      <legend class="unseen">{say.span}</legend>
      {spans.map(([name, seconds]) => (
        <label key={seconds}>
          <input
            type="radio"
            name="span"
            checked={spanS === seconds}
            onChange={() => onSpan(seconds)}
          />
          <span>{say.spans[name]}</span>
        </label>
      ))}
    </fieldset>
  );
}
