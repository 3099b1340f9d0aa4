import { useEffect, useMemo, useState } from 'preact/hooks';
import type { History } from '../../../../shared/protocol/http.ts';
import { type Circuit, clockOffsetMs } from '../live/floor-state.ts';
import { nowMs } from '../live/standing.ts';
import { history } from '../parts/api.ts';
import { Chart } from '../parts/chart.tsx';
import { bandOf, pairBand } from '../parts/plate-band.ts';
import type { ChartFacts } from '../parts/plot-options.ts';

const spans = [
  ['10 min', 600],
  ['1 h', 3_600],
  ['8 h', 8 * 3_600],
  ['24 h', 86_400],
  ['7 days', 7 * 86_400],
] as const;
/** While the newest is shown it is fetched anew this often. */
const followMs = 10_000;
const points = 600;
const inks = ['--accent', '--marginal', '--adequate'];

/** Hours at once: of each stretch of time the lowest and the highest half cycle. */
export function HistoryCharts({ circuit }: { circuit: Circuit }) {
  const { id } = circuit.sensor.value;
  const [spanS, setSpanS] = useState<number>(spans[0][1]);
  /** Null follows the present. */
  const [endMs, setEndMs] = useState<number | null>(null);
  const [answer, setAnswer] = useState<History | null>(null);
  const [fault, setFault] = useState('');
  const tick = endMs === null ? Math.floor(nowMs.value / followMs) : 0;
  useEffect(() => {
    let mine = true;
    const to = endMs ?? Date.now() + clockOffsetMs.peek();
    history(id, to - spanS * 1_000, to, points).then(
      (found) => {
        if (!mine) return;
        setAnswer(found);
        setFault('');
      },
      (error: Error) => mine && setFault(error.message),
    );
    return () => {
      mine = false;
    };
  }, [id, spanS, endMs, tick]);
  const step = (part: number) => {
    const end = (endMs ?? Date.now()) + part * spanS * 1_000;
    setEndMs(end >= Date.now() ? null : end);
  };
  const facts = useMemo(() => answer && historyFacts(answer, circuit), [answer, circuit]);
  return (
    <section>
      <h2>History</h2>
      <div class="tools">
        <fieldset class="choices">
          <legend class="unseen">How much at once</legend>
          {spans.map(([words, seconds]) => (
            <label key={seconds}>
              <input
                type="radio"
                name="span"
                checked={spanS === seconds}
                onChange={() => setSpanS(seconds)}
              />
              <span>{words}</span>
            </label>
          ))}
        </fieldset>
        <button type="button" onClick={() => step(-0.5)}>
          <span aria-hidden="true">←</span> Earlier
        </button>
        <button type="button" disabled={endMs === null} onClick={() => step(0.5)}>
          Later <span aria-hidden="true">→</span>
        </button>
        <button type="button" aria-pressed={endMs === null} onClick={() => setEndMs(null)}>
          Now
        </button>
      </div>
      <p class="fault" role="alert">
        {fault}
      </p>
      {facts?.map((each) => (
        <Chart key={each.says} facts={each} />
      ))}
    </section>
  );
}

function historyFacts(answer: History, circuit: Circuit): ChartFacts[] {
  const { circuit: described, plate } = circuit.sensor.peek();
  const volts = circuit.reading.peek()?.volts ?? [];
  const band = pairBand(
    bandOf(plate?.plate ?? null, described?.circuit ?? null),
    volts,
    described?.circuit.volts ?? null,
  );
  const from = Date.parse(answer.from) / 1_000;
  const shared = {
    xLabel: '',
    ofDay: true,
    whole: [from, Date.parse(answer.to) / 1_000] as const,
    height: 180,
    decimals: 1,
  };
  const time = answer.timeS.map((seconds) => from + seconds);
  const chart = (says: string, unit: string, min: Column[], max: Column[]): ChartFacts => ({
    ...shared,
    says: `${says}: lowest and highest half cycle of each ${Math.round(answer.bucketS)} s`,
    columns: [time, ...min.flatMap((column, pair) => [column, max[pair]!])],
    lines: min.flatMap((_, pair) =>
      ['lowest', 'highest'].map((which) => ({
        label: min.length > 1 ? `${which} ${pair + 1}` : which,
        unit,
        ink: inks[pair] ?? '--accent',
      })),
    ),
    spans: min.map((_, pair) => [2 * pair, 2 * pair + 1] as const),
  });
  return [
    { ...chart('Volts', 'V', answer.voltsMin, answer.voltsMax), band },
    chart('Amperes', 'A', answer.ampsMin, answer.ampsMax),
  ];
}

type Column = (number | null)[];
