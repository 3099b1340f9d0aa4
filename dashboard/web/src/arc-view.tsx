import { useEffect, useState } from 'preact/hooks';
import type { ArcDetail, RowColumns } from '../../../shared/protocol/http.ts';
import type { Finding } from '../../../shared/protocol/judgement.ts';
import type { Waveform } from '../../../shared/protocol/live-rows.ts';
import { arcDetail, arcRows, arcWaveform } from './api.ts';
import { ArcFigures } from './arc-figures.tsx';
import { Chart, type ChartFacts } from './chart.tsx';
import { clock, day, figure } from './format.ts';
import { Ladder } from './ladder.tsx';
import { bandOf, ladderFacts } from './plate-band.ts';
import { VerdictMark, verdictWord } from './verdict-mark.tsx';

interface Loaded {
  detail: ArcDetail;
  rows: RowColumns;
  wave: Waveform | null;
}

/** One arc: the verdict in a sentence, the ladder, the findings, then the pictures and figures. */
export function ArcView({ id }: { id: number }) {
  const [loaded, setLoaded] = useState<Loaded | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    let mine = true;
    load(id).then(
      (result) => mine && setLoaded(result),
      (error: Error) => mine && setFault(error.message),
    );
    return () => {
      mine = false;
    };
  }, [id]);
  if (fault) return <main class="empty">{fault}</main>;
  if (!loaded) return <main class="empty">Fetching the arc …</main>;
  return <LoadedArc {...loaded} />;
}

async function load(id: number): Promise<Loaded> {
  const detail = await arcDetail(id);
  const [rows, wave] = await Promise.all([
    arcRows(id),
    detail.waveform ? arcWaveform(id) : Promise.resolve(null),
  ]);
  return { detail, rows, wave };
}

function LoadedArc({ detail, rows, wave }: Loaded) {
  const { arc, summary, plate, circuit } = detail;
  const facts = ladderFacts(arc, plate, circuit, null);
  return (
    <main class="weld">
      <p>
        <a href="#/">← The floor</a>
      </p>
      <section class={`verdict ${arc.verdict}`}>
        <VerdictMark verdict={arc.verdict} size={56} />
        <div>
          <h1>{verdictWord[arc.verdict]}</h1>
          <p class="sentence">{summary.says}</p>
          <p class="where">
            {summary.circuitName ?? 'A circuit not described'} ·{' '}
            {summary.plateName ?? 'no machine named'} · {day(summary.startedAt)}{' '}
            {clock(summary.startedAt)} · {figure(arc.durationS)} s
          </p>
        </div>
        {facts && <Ladder facts={facts} />}
      </section>
      <Findings findings={arc.findings} />
      <Chart facts={rowsChart(rows, bandOf(plate, circuit))} />
      {wave ? (
        <Chart facts={waveChart(wave)} />
      ) : (
        <p class="empty">The waveform of this arc has been given up to make room.</p>
      )}
      <ArcFigures arc={arc} />
    </main>
  );
}

function Findings({ findings }: { findings: readonly Finding[] }) {
  return (
    <section>
      <h2>Why</h2>
      <ul class="findings">
        {findings.map((finding) => (
          <li key={finding.rule}>
            <VerdictMark verdict={finding.verdict} size={24} />
            <div>
              <p>
                <strong class={finding.verdict}>{verdictWord[finding.verdict]}</strong>{' '}
                {finding.says}
              </p>
              {finding.electrician && <p class="electrician">{finding.electrician}</p>}
              <p class="source">
                {finding.rule}
                {finding.limit !== null && `, limit ${figure(finding.limit, 2)} ${finding.unit}`}.{' '}
                {finding.source}
                {finding.required ? '' : '. Advice'}
              </p>
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}

const inks = ['--accent', '--marginal', '--adequate'];

function rowsChart(rows: RowColumns, band: [number, number] | null): ChartFacts {
  const many = rows.volts.length > 1;
  const name = (what: string, pair: number) => (many ? `${what} ${pair + 1}` : what);
  return {
    says:
      'Voltage and current, half cycle by half cycle' +
      (band
        ? `; the band is what the plate permits, ${figure(band[0])} to ${figure(band[1])} V`
        : ''),
    xLabel: 'seconds from the arc’s start',
    columns: [rows.timeS, ...rows.volts, ...rows.amps],
    lines: [
      ...rows.volts.map((_, pair) => ({
        label: name('voltage', pair),
        unit: 'V',
        ink: inks[pair] ?? '--accent',
      })),
      ...rows.amps.map((_, pair) => ({
        label: name('current', pair),
        unit: 'A',
        ink: '--underpowered',
        dash: [6, 3 + 2 * pair],
      })),
    ],
    band,
  };
}

function waveChart(wave: Waveform): ChartFacts {
  const column = (values: Float32Array) =>
    Array.from(values, (value) => (Number.isNaN(value) ? null : value));
  const count = wave.volts[0]?.length ?? 0;
  const time = Array.from({ length: count }, (_, index) => wave.startS + index / wave.rateHz);
  return {
    says: `The waveform, ${Math.round(wave.rateHz)} samples a second; drag to look closer`,
    xLabel: 'seconds from the arc’s start',
    columns: [time, ...wave.volts.map(column), ...wave.amps.map(column)],
    lines: [
      ...wave.volts.map((_, pair) => ({
        label: `v${pair + 1}`,
        unit: 'V',
        ink: inks[pair] ?? '--accent',
      })),
      ...wave.amps.map((_, pair) => ({ label: `i${pair + 1}`, unit: 'A', ink: '--underpowered' })),
    ],
    height: 260,
  };
}
