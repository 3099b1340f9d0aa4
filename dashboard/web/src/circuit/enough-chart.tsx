import type { ArcDetail, ArcSummary } from '../../../../shared/protocol/http.ts';
import { isBroken } from '../../../../shared/protocol/verdicts.ts';
import { figure } from '../parts/format.ts';
import { bandOf, ladderFacts, terminalVolts } from '../parts/plate-band.ts';
import { said } from '../parts/said.ts';
import { roundTicks, Scatter, type ScatterFrame, scatterFrame } from '../parts/scatter.tsx';
import { words } from '../parts/words.ts';

interface EnoughProps {
  arcs: readonly ArcSummary[];
  /** The newest arc whole: its plate and what was foretold at full load. */
  last: ArcDetail | null;
}

/**
 * Is it enough? Each arc's lowest volts against its mean amperes, the least that the plate permits,
 * and the point foretold at the plate's full current: the line between falls as the wire is thin.
 */
export function EnoughChart({ arcs, last }: EnoughProps) {
  const facts = last && ladderFacts(last.arc, last.plate, last.circuit, null);
  const band = last && bandOf(last.plate, last.circuit);
  const line = last?.plate?.supply.reduce((best, each) =>
    Math.abs(each.U1 - (facts?.rated ?? 0)) < Math.abs(best.U1 - (facts?.rated ?? 0)) ? each : best,
  );
  if (!last || !facts || !band || !line || arcs.length === 0) return null;
  const volts = last.arc.channels.map((channel) => channel.minVolts200ms);
  // Arcs stored before it was measured have their worst pair's volts.
  const joined = terminalVolts(volts, facts.rated) / Math.min(...volts);
  const times = (arc: ArcSummary) => (arc.terminals || volts.length === 1 ? 1 : joined);
  const points = arcs.map((arc) => ({ ...arc, volts: arc.minVolts200ms * times(arc) }));
  const full = facts.foretold;
  const all = [band[0], facts.rated, ...points.map((point) => point.volts), full?.low ?? band[0]];
  const least = Math.min(...all) - 0.02 * facts.rated;
  const most = Math.max(...all) + 0.03 * facts.rated;
  const xMost = 1.15 * Math.max(line.I1max, ...points.map((point) => point.meanAmps));
  const frame = scatterFrame([0, xMost], [least, most]);
  const { x, y } = frame;
  return (
    <figure class="chart">
      <figcaption>{words.circuit.enough.caption}</figcaption>
      <Scatter
        says={sentence(points.length, band[0], line.I1max, full)}
        xTicks={roundTicks(0, xMost)}
        yTicks={roundTicks(least, most)}
        xLabel={words.circuit.enough.x}
        yLabel={words.circuit.enough.y}
        frame={frame}
      >
        <rect
          class="rung"
          x={frame.left}
          y={y(most)}
          width={frame.right - frame.left}
          height={y(band[0]) - y(most)}
        />
        <line class="limit" x1={frame.left} x2={frame.right} y1={y(band[0])} y2={y(band[0])} />
        <Under frame={frame} y={y(band[0])} />
        <line class="full" x1={x(line.I1max)} x2={x(line.I1max)} y1={frame.top} y2={frame.bottom} />
        <text x={x(line.I1max) - 6} y={frame.bottom - 8} text-anchor="end">
          {words.circuit.enough.full(figure(line.I1max, 0))}
        </text>
        {points.map((point) => (
          <ArcPoint key={point.id} at={[x(point.meanAmps), y(point.volts)]} of={point} />
        ))}
        {full && <FullLoad x={x(line.I1max)} y={[y(full.high), y(full.volts), y(full.low)]} />}
      </Scatter>
    </figure>
  );
}

/** Pixels of a letter, about, in the drawing's units. */
const letter = 7.5;

/** What the line means: in two lines of words where one is too long. */
function Under({ frame: { left, right }, y }: { frame: ScatterFrame; y: number }) {
  const says = words.circuit.enough.under;
  const half = says.indexOf(' ', says.length / 2);
  const fits = says.length * letter < right - left || half < 0;
  const lines = fits ? [says] : [says.slice(0, half), says.slice(half + 1)];
  return lines.map((line, at) => (
    <text key={line} x={left + 8} y={y + 16 * (at + 1)}>
      {line}
    </text>
  ));
}

function ArcPoint({ at: [x, y], of }: { at: [number, number]; of: ArcSummary }) {
  const title = <title>{said(of)}</title>;
  if (isBroken(of.verdict))
    return (
      <path class="arc-point" d={`M${x - 6} ${y - 6}h12v12h-3l-3-6-3 6h-3z`}>
        {title}
      </path>
    );
  return (
    <circle class={`arc-point ${of.verdict}`} cx={x} cy={y} r="5.5">
      {title}
    </circle>
  );
}

function FullLoad({ x, y: [high, at, low] }: { x: number; y: [number, number, number] }) {
  return (
    <g class="foretold">
      <path d={`M${x} ${high}V${low}M${x - 6} ${high}h12M${x - 6} ${low}h12`} />
      <polygon points={`${x},${at - 9} ${x + 8},${at} ${x},${at + 9} ${x - 8},${at}`} />
    </g>
  );
}

function sentence(
  count: number,
  needs: number,
  amps: number,
  full: { volts: number; low: number; high: number } | null,
): string {
  const say = words.circuit.enough;
  const foretold = full ? say.foretold(figure(full.volts), figure(full.low)) : '';
  return [say.says(count, figure(needs), figure(amps, 0)), foretold, say.list]
    .filter((part) => part !== '')
    .join(' ');
}
