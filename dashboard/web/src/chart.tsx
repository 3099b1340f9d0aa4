import { useEffect, useRef } from 'preact/hooks';
import uPlot from 'uplot';

export interface Line {
  label: string;
  unit: string;
  /** Name of a custom property with the line's colour. */
  ink: string;
  dash?: number[];
}

export interface ChartFacts {
  /** What the chart shows, in a sentence; a screen reader gets it with the table below. */
  says: string;
  xLabel: string;
  /** First column x, then one a line; null marks a gap. */
  columns: (number | null)[][];
  lines: Line[];
  /** A band of y values drawn behind, such as what the plate permits. */
  band?: readonly [number, number] | null;
  height?: number;
}

/** uPlot in a frame that can be resized, read aloud and printed. */
export function Chart({ facts }: { facts: ChartFacts }) {
  const frame = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const height = facts.height ?? 220;
    const plot = new uPlot(
      options(facts, element.clientWidth, height),
      facts.columns as uPlot.AlignedData,
      element,
    );
    const watch = new ResizeObserver(() => plot.setSize({ width: element.clientWidth, height }));
    watch.observe(element);
    return () => {
      watch.disconnect();
      plot.destroy();
    };
  }, [facts]);
  return (
    <figure class="chart">
      <figcaption>{facts.says}</figcaption>
      <div ref={frame} role="img" aria-label={facts.says} />
      <DataTable facts={facts} />
    </figure>
  );
}

function options(facts: ChartFacts, width: number, height: number): uPlot.Options {
  const style = getComputedStyle(document.documentElement);
  const ink = (name: string) => style.getPropertyValue(name).trim();
  const units = [...new Set(facts.lines.map((line) => line.unit))];
  const axis = { stroke: ink('--ink-soft'), grid: { stroke: ink('--line'), width: 1 } };
  return {
    width,
    height,
    scales: { x: { time: false } },
    legend: { live: true },
    cursor: { drag: { x: true, y: false } },
    axes: [
      { ...axis, label: facts.xLabel, labelSize: 20, size: 40 },
      ...units.map((unit, index) => ({
        ...axis,
        scale: unit,
        label: unit,
        labelSize: 20,
        size: 52,
        side: index === 0 ? (3 as const) : (1 as const),
        grid: index === 0 ? axis.grid : { show: false },
      })),
    ],
    series: [
      { label: facts.xLabel, value: (_plot, value) => (value === null ? '–' : value.toFixed(3)) },
      ...facts.lines.map((line) => ({
        label: `${line.label} (${line.unit})`,
        scale: line.unit,
        stroke: ink(line.ink),
        width: 1.75,
        points: { show: false },
        ...(line.dash ? { dash: line.dash } : {}),
        value: (_plot: uPlot, value: number | null) => (value === null ? '–' : value.toFixed(2)),
      })),
    ],
    hooks: { drawClear: [(plot) => drawBand(plot, facts, units[0] ?? '', ink('--rung'))] },
  };
}

function drawBand(plot: uPlot, facts: ChartFacts, scale: string, colour: string): void {
  if (!facts.band) return;
  const { left, top, width, height } = plot.bbox;
  const clamp = (y: number) => Math.min(top + height, Math.max(top, y));
  const high = clamp(plot.valToPos(facts.band[1], scale, true));
  const low = clamp(plot.valToPos(facts.band[0], scale, true));
  plot.ctx.fillStyle = colour;
  plot.ctx.fillRect(left, high, width, Math.max(0, low - high));
}

const tableRows = 40;

/** The chart's figures, thinned to a length that a person can go through. */
function DataTable({ facts }: { facts: ChartFacts }) {
  const [x = [], ...columns] = facts.columns;
  const step = Math.max(1, Math.ceil(x.length / tableRows));
  const picked = x.map((_, index) => index).filter((index) => index % step === 0);
  return (
    <details>
      <summary>The figures{step > 1 ? `, every ${step}th` : ''}</summary>
      <div class="scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">{facts.xLabel}</th>
              {facts.lines.map((line) => (
                <th key={line.label} scope="col">
                  {line.label}, {line.unit}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {picked.map((index) => (
              <tr key={index}>
                <th scope="row">{x[index]?.toFixed(3)}</th>
                {columns.map((column, at) => (
                  <td key={facts.lines[at]?.label}>{column[index]?.toFixed(2) ?? '–'}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
