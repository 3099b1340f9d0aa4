import { useState } from 'preact/hooks';
import type { PlanRow } from '../../../../shared/protocol/planning.ts';
import { verdicts } from '../../../../shared/protocol/verdicts.ts';
import { figure } from '../parts/format.ts';
import { said } from '../parts/said.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';

/** Machines beside each other: what a sheet of paper and a desk's screen have room for. */
const mostColumns = 12;
/** Up to so many rows a plan shows with all its reasons at once. */
const mostOpen = 24;

/** Every machine on every circuit: at a glance first, then each machine's circuits and why. */
export function Matrix({ rows }: { rows: readonly PlanRow[] }) {
  const machines = [...new Set(rows.map(({ machine }) => machine))].map(
    (name): Machine => [name, rows.filter(({ machine }) => machine === name)],
  );
  const groups = Array.from({ length: Math.ceil(machines.length / mostColumns) }, (_, at) =>
    machines.slice(at * mostColumns, (at + 1) * mostColumns),
  );
  return (
    <section>
      <h3>{words.plan.matrix}</h3>
      <p>{words.plan.atFull}:</p>
      <p class="legend">
        {verdicts.map((verdict) => (
          <span key={verdict} class="verdict-word">
            <VerdictMark verdict={verdict} size={20} /> {verdictWord(verdict)}
          </span>
        ))}
      </p>
      {groups.map((group) => (
        <Overview key={group[0]?.[0]} machines={group} />
      ))}
      {machines.map(([machine, own]) => (
        <Reasons key={machine} machine={machine} rows={own} open={rows.length <= mostOpen} />
      ))}
    </section>
  );
}

type Machine = readonly [name: string, rows: readonly PlanRow[]];

/** A shape and a voltage a cell; a machine's name leads to its reasons. */
function Overview({ machines }: { machines: readonly Machine[] }) {
  const circuits = machines[0]?.[1] ?? [];
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must scroll by keys, too
    <section class="overview" tabIndex={0} aria-label={words.plan.matrix}>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.plan.circuit}</th>
            {machines.map(([machine]) => (
              <th key={machine} scope="col">
                <button type="button" onClick={() => showReasons(machine)}>
                  {machine}
                </button>
                <span class="printed">{machine}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {circuits.map(({ circuit }, at) => (
            <tr key={circuit}>
              <th scope="row">{circuit}</th>
              {machines.map(([machine, rows]) => (
                <Cell key={machine} row={rows[at]!} />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Cell({ row: { verdict, voltsAtFullLoad } }: { row: PlanRow }) {
  return (
    <td>
      <VerdictMark verdict={verdict} size={20} />
      <span class="unseen">{verdictWord(verdict)}</span>
      <span>{voltsAtFullLoad === null ? '–' : `${figure(voltsAtFullLoad, 0)} V`}</span>
    </td>
  );
}

const idOf = (machine: string): string => `reasons ${machine}`;

function showReasons(machine: string): void {
  const reasons = document.getElementById(idOf(machine));
  if (!(reasons instanceof HTMLDetailsElement)) return;
  reasons.open = true;
  reasons.scrollIntoView();
  reasons.querySelector('summary')?.focus();
}

interface ReasonsProps {
  machine: string;
  rows: readonly PlanRow[];
  open: boolean;
}

/** Two columns, so that a phone shows all of it; drawn once they are wanted. */
function Reasons({ machine, rows, open }: ReasonsProps) {
  const [shown, setShown] = useState(open);
  const enough = rows.filter(({ verdict }) => verdict === 'adequate').length;
  return (
    <details
      class="reasons"
      id={idOf(machine)}
      open={open}
      onToggle={(event) => setShown(shown || event.currentTarget.open)}
    >
      <summary>
        <strong>{machine}</strong> {words.plan.enoughAt(enough, rows.length)}
      </summary>
      {shown && (
        <table class="matrix">
          <thead>
            <tr class="printed-row">
              <th colSpan={2}>{machine}</th>
            </tr>
            <tr>
              <th scope="col">{words.plan.circuit}</th>
              <th scope="col">{words.plan.atFull}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <Row key={row.circuit} row={row} />
            ))}
          </tbody>
        </table>
      )}
    </details>
  );
}

function because({ verdict, findings }: PlanRow): string | undefined {
  const finding = findings.find((each) => each.verdict === verdict);
  return finding && said(finding);
}

function Row({ row }: { row: PlanRow }) {
  const { circuit, supply, verdict, voltsAtFullLoad, volts95 } = row;
  return (
    <tr>
      <th scope="row">
        {circuit}
        <small>{words.plan.supply[supply]}</small>
        {verdict !== 'adequate' && <small class="because">{because(row)}</small>}
      </th>
      <td>
        <span class="verdict-word">
          <VerdictMark verdict={verdict} size={20} />
          <strong class={verdict}>{verdictWord(verdict)}</strong>
        </span>
        {verdict !== 'unsuited' && (
          <span class="volts">
            {voltsAtFullLoad === null ? words.plan.notForetold : `${figure(voltsAtFullLoad)} V`}
          </span>
        )}
        {volts95 && <small>{words.plan.range(figure(volts95[0]), figure(volts95[1]))}</small>}
      </td>
    </tr>
  );
}
