import { useState } from 'preact/hooks';
import { clock, figure } from './format.ts';
import type { ChartFacts } from './plot-options.ts';
import { words } from './words.ts';

/** Rows that a person can go through. */
const mostRows = 40;

/** The chart's figures as a table, thinned; built when it is opened. */
export function ChartTable({ facts }: { facts: ChartFacts }) {
  const { chart } = words.parts;
  const [open, setOpen] = useState(false);
  const step = Math.max(1, Math.ceil((facts.columns[0]?.length ?? 0) / mostRows));
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{step > 1 ? chart.figuresThinned(step) : chart.figures}</summary>
      {open && <Figures facts={facts} step={step} />}
    </details>
  );
}

function Figures({ facts, step }: { facts: ChartFacts; step: number }) {
  const [x = [], ...columns] = facts.columns;
  const picked = x.map((_, index) => index).filter((index) => index % step === 0);
  const name = (value: number | null | undefined) => {
    if (value == null) return '–';
    return facts.ofDay ? clock(value * 1_000) : figure(value, 3);
  };
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled by keys
    <section class="scroll" aria-label={facts.says} tabIndex={0}>
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
              <th scope="row">{name(x[index])}</th>
              {columns.map((column, at) => (
                <td key={facts.lines[at]?.label}>{figure(column[index], 2)}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
