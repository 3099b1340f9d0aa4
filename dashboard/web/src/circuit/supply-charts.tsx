import { useEffect, useMemo, useState } from 'preact/hooks';
import type {
  SupplyHistory,
  SupplyPoint,
  SupplyTrendSchema,
} from '../../../../shared/protocol/http-supply.ts';
import { type Circuit, clockOffsetMs } from '../live/floor-state.ts';
import { supplyHistory } from '../parts/api.ts';
import { Chart } from '../parts/chart.tsx';
import { figure } from '../parts/format.ts';
import { pairInk } from '../parts/pair-marks.ts';
import type { ChartFacts } from '../parts/plot-options.ts';
import { words } from '../parts/words.ts';

/** Looked back over: a loose terminal shows within months; a day's last estimate stays for good. */
const spanMs = 365 * 86_400_000;
/** Beside the first and the last estimate, in seconds. */
const leastRoomS = 60;

/** R and X of the supply after each arc with their 95 % intervals, and whether R has risen. */
export function SupplyCharts({ circuit }: { circuit: Circuit }) {
  const { id, lastArc } = circuit.sensor.value;
  const [found, setFound] = useState<SupplyHistory | null>(null);
  useEffect(() => {
    let mine = true;
    const to = Date.now() + clockOffsetMs.peek();
    supplyHistory(id, to - spanMs, to + 60_000).then(
      (answer) => mine && setFound(answer),
      // The last answer stands; the link's state is told at the head of the page.
      () => undefined,
    );
    return () => {
      mine = false;
    };
  }, [id, lastArc?.id]);
  const facts = useMemo(() => found && [chartOf(found, 'R'), chartOf(found, 'X')], [found]);
  if (!found || !facts) return null;
  const say = words.circuit.supply;
  const several = found.trends.length > 1;
  return (
    <section>
      <h2>{say.heading}</h2>
      {found.trends.map((trend) => (
        <p key={trend.pair} class={`trend ${trend.kind}`}>
          {several ? say.ofPair(trend.pair, sentence(trend)) : sentence(trend)}
        </p>
      ))}
      {found.points.length === 0 ? (
        <p class="empty">{say.none}</p>
      ) : (
        <>
          <p class="source">{say.why}</p>
          <div class="two-up">
            {facts.map((each) => (
              <Chart key={each.says} facts={each} />
            ))}
          </div>
        </>
      )}
    </section>
  );
}

function sentence({ kind, before, now }: SupplyTrendSchema): string {
  const say = words.circuit.supply;
  const ohms = ({ ohmsR, ohmsR95: [low, high] }: typeof now) =>
    say.ohms(figure(ohmsR, 3), figure(low, 3), figure(high, 3));
  return kind === 'few' || !before ? say.few(ohms(now)) : say[kind](ohms(before), ohms(now));
}

function chartOf({ points }: SupplyHistory, which: 'R' | 'X'): ChartFacts {
  const say = words.circuit.supply;
  const pairs = Math.max(1, ...points.map(({ pair }) => pair));
  const time = points.map(({ at }) => Date.parse(at) / 1_000);
  const parts: [name: string, of: (point: SupplyPoint) => number][] = [
    [say.low, (point) => point[`ohms${which}95`][0]],
    [say.high, (point) => point[`ohms${which}95`][1]],
    [which, (point) => point[`ohms${which}`]],
  ];
  const each = Array.from({ length: pairs }, (_, pair) =>
    parts.map(([name, of]) => ({
      line: {
        label: pairs > 1 ? `${name} ${pair + 1}` : name,
        unit: 'Ω',
        ink: pairInk(pair),
        ...(name === which ? { pair: pair + 1 } : { dash: [3, 4] }),
      },
      column: points.map((point) => (point.pair === pair + 1 ? of(point) : null)),
    })),
  ).flat();
  const room = Math.max(leastRoomS, ((time.at(-1) ?? 0) - (time[0] ?? 0)) / 50);
  return {
    says: which === 'R' ? say.ohmsR : say.ohmsX,
    xLabel: '',
    ofDay: true,
    columns: [time, ...each.map(({ column }) => column)],
    lines: each.map(({ line }) => line),
    spans: Array.from({ length: pairs }, (_, pair) => [3 * pair, 3 * pair + 1] as const),
    whole: [(time[0] ?? 0) - room, (time.at(-1) ?? 1) + room],
    dots: 'all',
    joined: true,
    decimals: 3,
    leastRoom: 0.02,
    height: 200,
  };
}
