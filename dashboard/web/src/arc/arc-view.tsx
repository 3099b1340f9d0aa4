import { useSignal } from '@preact/signals';
import { useMemo, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../../shared/protocol/judgement.ts';
import { Chart } from '../parts/chart.tsx';
import type { Extent } from '../parts/extent.ts';
import { words } from '../parts/words.ts';
import { rowsChart, waveCharts } from './arc-charts.ts';
import { ArcFigures } from './arc-figures.tsx';
import { ArcFiles } from './arc-files.tsx';
import { Beside } from './beside.tsx';
import { Findings } from './findings.tsx';
import { type Loaded, useArc, wholeOfArc } from './load-arc.ts';
import { ArcSpectrumView } from './spectrum.tsx';
import { Split } from './split.tsx';
import { useWave } from './use-wave.ts';
import { Verdict } from './verdict.tsx';

/** One arc: the verdict in a sentence, the ladder, the findings, then the pictures and figures. */
export function ArcView({ id, beside }: { id: number; beside: number | null }) {
  const loaded = useArc(id);
  const other = useArc(beside);
  const fault = loaded instanceof Error ? loaded : other instanceof Error ? other : null;
  if (fault)
    return (
      <main class="empty">
        <h1 tabIndex={-1}>{words.arc.none}</h1>
        <p>{fault.message}</p>
      </main>
    );
  if (!loaded || loaded instanceof Error || other instanceof Error)
    return <main class="empty">{words.arc.fetching}</main>;
  return (
    <main class={`weld ${other ? 'two' : ''}`}>
      <p class="back">
        <a href={`#/circuit/${encodeURIComponent(loaded.detail.summary.sensor)}`}>
          ← {loaded.detail.summary.circuitName ?? words.arc.circuit}
        </a>
      </p>
      {other ? <Beside left={loaded} right={other} /> : <OneArc loaded={loaded} />}
    </main>
  );
}

function OneArc({ loaded: { detail, rows } }: { loaded: Loaded }) {
  const { arc, summary, waveform } = detail;
  const extent = useSignal<Extent | null>(null);
  const charts = useRef<HTMLDivElement>(null);
  const [shown, setShown] = useState<Finding | null>(null);
  const whole = useMemo(() => wholeOfArc(detail), [detail]);
  const seen = useWave(summary.id, waveform, whole, extent);
  const places = useMemo(() => shown?.atS && [placeOf(shown.atS, arc.startS)], [shown, arc]);
  const rowFacts = useMemo(
    () => ({ ...rowsChart(rows, detail, places ?? undefined), whole }),
    [detail, rows, places, whole],
  );
  const waveFacts = useMemo(
    () =>
      seen && !(seen instanceof Error)
        ? waveCharts(seen, whole, detail, places ?? undefined)
        : null,
    [seen, whole, detail, places],
  );
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
          {words.arc.print}
        </button>
        <a class="button" href={`#/circuit/${encodeURIComponent(summary.sensor)}`}>
          {words.arc.others}
        </a>
        {summary.weld && (
          <a class="button" href={`#/welds/${summary.weld.job}/${summary.id}`}>
            {words.jobs.here(summary.weld.jobNumber)}
          </a>
        )}
      </p>
      <Split detail={detail} />
      <Findings findings={arc.findings} onShow={onShow} shown={shown} />
      <div ref={charts}>
        <Chart facts={rowFacts} extent={extent} />
        {waveFacts?.map((each, at) => (
          <Chart key={at === 0 ? 'V' : 'A'} facts={each} extent={extent} tools={false} />
        ))}
        {(!waveform || seen instanceof Error) && (
          <p class="empty">{seen instanceof Error ? seen.message : words.arc.gone}</p>
        )}
      </div>
      {waveform && <ArcSpectrumView arcs={[detail]} extent={extent} />}
      <ArcFigures arcs={[arc]} />
      <ArcFiles detail={detail} />
    </>
  );
}

/** A finding's times count from the sensor's first sample, the charts' from the arc's start. */
const placeOf = ([from, to]: [number, number], startS: number): [number, number] => [
  from - startS,
  to - startS,
];
