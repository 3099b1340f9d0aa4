import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { Chart } from '../parts/chart.tsx';
import type { Extent } from '../parts/extent.ts';
import type { ChartFacts } from '../parts/plot-options.ts';
import { words } from '../parts/words.ts';
import { rowsChart } from './arc-charts.ts';
import { ArcFigures } from './arc-figures.tsx';
import type { Loaded } from './load-arc.ts';
import { ArcSpectrumView } from './spectrum.tsx';
import { Verdict } from './verdict.tsx';

/** Two arcs side by side, their charts moved as one. */
export function Beside({ left, right }: { left: Loaded; right: Loaded }) {
  const extent = useSignal<Extent | null>(null);
  const longest = Math.max(left.detail.arc.durationS, right.detail.arc.durationS);
  const facts = useMemo(
    () =>
      [left, right].map((arc, side) => ({
        ...named(rowsChart(arc.rows, arc.detail, undefined), side),
        whole: [-0.5, longest + 0.5] as const,
      })),
    [left, right, longest],
  );
  const waveforms = left.detail.waveform && right.detail.waveform;
  return (
    <>
      <div class="beside">
        {[left, right].map(({ detail }, side) => (
          <div key={detail.summary.id}>
            <Verdict detail={detail} />
            <Chart facts={facts[side]!} extent={extent} />
            <ArcFigures arc={detail.arc} />
          </div>
        ))}
      </div>
      {waveforms && <ArcSpectrumView arcs={[left.detail, right.detail]} extent={extent} />}
    </>
  );
}

/** A reader by ear tells the two by their names. */
const named = (facts: ChartFacts, side: number): ChartFacts => ({
  ...facts,
  says: side === 0 ? words.arc.first(facts.says) : words.arc.second(facts.says),
});
