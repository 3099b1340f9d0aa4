import type { MachineSet, Plan, PlanRow } from '../../../../shared/protocol/planning.ts';
import { figure, plain } from '../parts/format.ts';
import { said } from '../parts/said.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { RemedyList } from '../remedy/remedy-list.tsx';
import { PlanFeeders } from './plan-feeders.tsx';

/** A plan: the set first, then what is not covered and why, then every machine on every circuit. */
export function PlanResult({ plan }: { plan: Plan }) {
  return (
    <section class="made">
      <h2 id="plan-made" tabIndex={-1}>
        {words.plan.made}
      </h2>
      {plan.covers.length > 0 && <Sets plan={plan} />}
      <Uncovered plan={plan} />
      {plan.covers.length > 0 && <Covers plan={plan} />}
      <Matrix rows={plan.matrix} />
      <PlanFeeders feeders={plan.feeders} />
      <List title={words.plan.duplicates} lines={plan.duplicates.map(said)} />
      <List title={words.plan.cautions} lines={plan.cautions.map((says) => said({ says }))} />
      <p class="actions no-print">
        <button type="button" onClick={() => print()}>
          {words.plan.print}
        </button>
      </p>
    </section>
  );
}

function setWords({ machines, price, buy }: MachineSet): string {
  const all = machines.join(words.plan.and);
  if (buy.length === 0) return words.plan.nothingToBuy(all);
  return words.plan.toPay(all, plain(price), buy.join(words.plan.and));
}

function Sets({ plan }: { plan: Plan }) {
  const { smallestSet, steps, covers, uncovered, alternatives, further } = plan;
  const met = covers.length - uncovered.length;
  return (
    <section>
      <h3>{words.plan.smallest}</h3>
      <p class="sentence">
        {smallestSet.machines.length === 0
          ? words.plan.noSet
          : words.plan.set(setWords(smallestSet), met, covers.length)}
      </p>
      <ol>
        {steps.map(({ machine, adds, owned }) => (
          <li key={machine}>
            {machine}
            {owned ? words.plan.ownedToo : ''}: {adds.join(', ') || words.plan.nothingMore}
          </li>
        ))}
      </ol>
      {smallestSet.machines.length > 0 && <Cheapest plan={plan} />}
      <List title={words.plan.instead} lines={alternatives.map(said)} />
      <List
        title={words.plan.further}
        lines={further.map(
          ({ machine, price, adds }) =>
            `${machine}, ${plain(price)}: ${adds.join(', ') || words.plan.nothing}`,
        )}
      />
    </section>
  );
}

function Cheapest({ plan: { cheapestSet, smallestSet } }: { plan: Plan }) {
  const same = cheapestSet.machines.join('\n') === smallestSet.machines.join('\n');
  return (
    <section>
      <h3>{words.plan.cheapest}</h3>
      <p>{same ? words.plan.cheapestSame : `${setWords(cheapestSet)}.`}</p>
    </section>
  );
}

function Uncovered({ plan }: { plan: Plan }) {
  if (plan.uncovered.length === 0) return null;
  return (
    <section>
      <h3>{words.plan.uncovered}</h3>
      {plan.uncovered.map(({ need, says, saying, why, nearest, remedies }) => (
        <article class="rows" key={need}>
          <h4>{need}</h4>
          <p>{said({ says, saying })}</p>
          <ul>
            {why.map((each) => (
              <li key={each.machine}>
                {each.machine}: {said(each)}
              </li>
            ))}
          </ul>
          {nearest && remedies.length > 0 && (
            <>
              <p>{words.plan.wouldDo(nearest.machine, nearest.circuit)}</p>
              <RemedyList remedies={remedies} />
            </>
          )}
        </article>
      ))}
    </section>
  );
}

function Covers({ plan }: { plan: Plan }) {
  return (
    <section>
      <h3>{words.plan.covers}</h3>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">{words.plan.work}</th>
            <th scope="col">{words.plan.coveredBy}</th>
          </tr>
        </thead>
        <tbody>
          {plan.covers.map(({ need, machines, marginal }) => (
            <tr key={need}>
              <th scope="row">{need}</th>
              <td>
                {machines.join(', ') || words.plan.nothing}
                {marginal.length > 0 && words.plan.onlyJust(marginal.join(', '))}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** Two columns, so that a phone shows all of it: a machine's circuits stand under its name. */
function Matrix({ rows }: { rows: readonly PlanRow[] }) {
  const machines = [...new Set(rows.map(({ machine }) => machine))];
  return (
    <section>
      <h3>{words.plan.matrix}</h3>
      <table class="matrix">
        <thead>
          <tr>
            <th scope="col">{words.plan.circuit}</th>
            <th scope="col">{words.plan.atFull}</th>
          </tr>
        </thead>
        {machines.map((machine) => (
          <tbody key={machine}>
            <tr>
              <th scope="rowgroup" colSpan={2}>
                {machine}
              </th>
            </tr>
            {rows
              .filter((row) => row.machine === machine)
              .map((row) => (
                <Row key={row.circuit} row={row} />
              ))}
          </tbody>
        ))}
      </table>
    </section>
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
        <span class="volts">
          {voltsAtFullLoad === null ? words.plan.notForetold : `${figure(voltsAtFullLoad)} V`}
        </span>
        {volts95 && <small>{words.plan.range(figure(volts95[0]), figure(volts95[1]))}</small>}
      </td>
    </tr>
  );
}

function List({ title, lines }: { title: string; lines: readonly string[] }) {
  if (lines.length === 0) return null;
  return (
    <section>
      <h3>{title}</h3>
      <ul>
        {lines.map((each) => (
          <li key={each}>{each}</li>
        ))}
      </ul>
    </section>
  );
}
