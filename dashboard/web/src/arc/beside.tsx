import { type Signal, useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { Chart } from '../parts/chart.tsx';
import type { Extent } from '../parts/extent.ts';
import type { ChartFacts } from '../parts/plot-options.ts';
import { words } from '../parts/words.ts';
import { rowsChart, waveCharts } from './arc-charts.ts';
import { ArcFigures } from './arc-figures.tsx';
import { type Loaded, wholeOfArc } from './load-arc.ts';
import { ArcSpectrumView } from './spectrum.tsx';
import { useWave } from './use-wave.ts';
import { Verdict } from './verdict.tsx';
import { ofArc, WhichArc } from './which-arc.tsx';

/** Two arcs side by side, their charts moved as one, their figures and spectra in one place. */
export function Beside({ left, right }: { left: Loaded; right: Loaded }) {
  const extent = useSignal<Extent | null>(null);
  const both = [left, right];
  const longest = Math.max(left.detail.arc.durationS, right.detail.arc.durationS);
  const whole = useMemo((): Extent => [-0.5, longest + 0.5], [longest]);
  const waveforms = left.detail.waveform && right.detail.waveform;
  return (
    <>
      <div class="beside">
        {both.map((loaded, side) => (
          <Side key={loaded.detail.summary.id} {...{ loaded, side, whole, extent }} />
        ))}
      </div>
      <ArcFigures arcs={both.map(({ detail }) => detail.arc)} />
      {waveforms && <ArcSpectrumView arcs={both.map(({ detail }) => detail)} extent={extent} />}
    </>
  );
}

interface SideProps {
  loaded: Loaded;
  side: number;
  /** Of the longer of the two. */
  whole: Extent;
  extent: Signal<Extent | null>;
}

function Side({ loaded: { detail, rows }, side, whole, extent }: SideProps) {
  const { summary, waveform } = detail;
  const own = useMemo(() => wholeOfArc(detail), [detail]);
  const seen = useWave(summary.id, waveform, own, extent);
  const facts = useMemo(() => {
    const wave = seen && !(seen instanceof Error) ? waveCharts(seen, whole, detail, undefined) : [];
    return [{ ...rowsChart(rows, detail, undefined), whole }, ...wave].map(
      (each): ChartFacts => ({ ...each, says: ofArc(side, 2, each.says) }),
    );
  }, [rows, detail, seen, whole, side]);
  const fault = seen instanceof Error ? seen.message : words.arc.gone;
  return (
    <div>
      <p class="which">
        <WhichArc second={side === 1} />
      </p>
      <Verdict detail={detail} />
      {facts.map((each, at) => (
        <Chart key={at} facts={each} extent={extent} tools={at === 0} />
      ))}
      {(!waveform || seen instanceof Error) && <p class="empty">{fault}</p>}
    </div>
  );
}
