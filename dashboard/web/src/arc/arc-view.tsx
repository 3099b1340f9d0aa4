import { useSignal } from '@preact/signals';
import { useMemo, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../../shared/protocol/judgement.ts';
import { Chart } from '../parts/chart.tsx';
import type { Extent } from '../parts/extent.ts';
import { rowsChart, waveCharts } from './arc-charts.ts';
import { ArcFigures } from './arc-figures.tsx';
import { Beside } from './beside.tsx';
import { Findings } from './findings.tsx';
import { type Loaded, longestWaveS, useArc } from './load-arc.ts';
import { Split } from './split.tsx';
import { Verdict } from './verdict.tsx';

/** One arc: the verdict in a sentence, the ladder, the findings, then the pictures and figures. */
export function ArcView({ id, beside }: { id: number; beside: number | null }) {
  const loaded = useArc(id);
  const other = useArc(beside);
  const fault = loaded instanceof Error ? loaded : other instanceof Error ? other : null;
  if (fault)
    return (
      <main class="empty">
        <h1 tabIndex={-1}>No such arc here</h1>
        <p>{fault.message}</p>
      </main>
    );
  if (!loaded || loaded instanceof Error || other instanceof Error)
    return <main class="empty">Fetching the arc …</main>;
  return (
    <main class={`weld ${other ? 'two' : ''}`}>
      <p class="back">
        <a href={`#/circuit/${encodeURIComponent(loaded.detail.summary.sensor)}`}>
          ← {loaded.detail.summary.circuitName ?? 'The circuit'}
        </a>
      </p>
      {other ? <Beside left={loaded} right={other} /> : <OneArc loaded={loaded} />}
    </main>
  );
}

function OneArc({ loaded: { detail, rows, wave } }: { loaded: Loaded }) {
  const { arc } = detail;
  const extent = useSignal<Extent | null>(null);
  const charts = useRef<HTMLDivElement>(null);
  const [shown, setShown] = useState<Finding | null>(null);
  const place = shown?.atS ? placeOf(shown.atS, arc.startS) : null;
  const facts = useMemo(() => {
    const places = place ? [place] : undefined;
    return { rows: rowsChart(rows, detail, places), wave: wave && waveCharts(wave, places) };
  }, [detail, rows, wave, shown]);
  const onShow = (finding: Finding) => {
    if (!finding.atS) return;
    setShown(finding);
    const [from, to] = placeOf(finding.atS, arc.startS);
    const room = Math.max(to - from, 0.1);
    extent.value = [from - room, to + room];
    charts.current?.scrollIntoView({ block: 'start' });
  };
  return (
    <>
      <Verdict detail={detail} />
      <p class="no-print actions">
        <button type="button" onClick={() => print()}>
          Print this weld
        </button>
        <a class="button" href={`#/circuit/${encodeURIComponent(detail.summary.sensor)}`}>
          Other arcs of this circuit
        </a>
      </p>
      <Split detail={detail} />
      <Findings findings={arc.findings} onShow={onShow} shown={shown} />
      <div ref={charts}>
        <Chart facts={facts.rows} extent={extent} />
        {facts.wave ? (
          facts.wave.map((each) => (
            <Chart key={each.says} facts={each} extent={extent} tools={false} />
          ))
        ) : (
          <p class="empty">The waveform of this arc has been given up to make room.</p>
        )}
        {arc.durationS > longestWaveS && (
          <p class="empty">
            The waveform is shown for the first {longestWaveS} s; the half cycles for all of it.
          </p>
        )}
      </div>
      <ArcFigures arc={arc} />
    </>
  );
}

/** A finding's times count from the sensor's first sample, the charts' from the arc's start. */
const placeOf = ([from, to]: [number, number], startS: number): [number, number] => [
  from - startS,
  to - startS,
];
