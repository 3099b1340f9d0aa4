import type { MachineSet, Plan, PlanRow } from '../../../../shared/protocol/planning.ts';
import { figure } from '../parts/format.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { RemedyList } from '../remedy/remedy-list.tsx';
import { PlanFeeders } from './plan-feeders.tsx';

/** A plan: the set first, then what is not covered and why, then every machine on every circuit. */
export function PlanResult({ plan }: { plan: Plan }) {
  return (
    <section class="made">
      <h2 id="plan-made" tabIndex={-1}>
        The plan
      </h2>
      {plan.covers.length > 0 && <Sets plan={plan} />}
      <Uncovered plan={plan} />
      {plan.covers.length > 0 && <Covers plan={plan} />}
      <Matrix rows={plan.matrix} />
      <PlanFeeders feeders={plan.feeders} />
      <Said title="Owned twice" words={plan.duplicates.map(({ says }) => says)} />
      <Said title="Cautions" words={plan.cautions} />
      <p class="actions no-print">
        <button type="button" onClick={() => print()}>
          Print
        </button>
      </p>
    </section>
  );
}

function setWords({ machines, price, buy }: MachineSet): string {
  if (buy.length === 0) return `${machines.join(' and ')}: nothing to buy`;
  return `${machines.join(' and ')}: ${price} to pay for ${buy.join(' and ')}`;
}

function Sets({ plan }: { plan: Plan }) {
  const { smallestSet, steps, covers, uncovered, alternatives, further } = plan;
  const met = `${covers.length - uncovered.length} of ${covers.length}`;
  return (
    <section>
      <h3>Smallest set</h3>
      <p class="sentence">
        {smallestSet.machines.length === 0
          ? 'None of this work can be covered as things stand.'
          : `${setWords(smallestSet)}. It covers ${met}.`}
      </p>
      <ol>
        {steps.map(({ machine, adds, owned }) => (
          <li key={machine}>
            {machine}
            {owned ? ', owned' : ''}: {adds.join(', ') || 'nothing more'}
          </li>
        ))}
      </ol>
      {smallestSet.machines.length > 0 && <Cheapest plan={plan} />}
      <Said title="Instead" words={alternatives.map(({ says }) => says)} />
      <Said
        title="What each further machine would add"
        words={further.map(
          ({ machine, price, adds }) => `${machine}, ${price}: ${adds.join(', ') || 'nothing'}`,
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
      <h3>Not covered</h3>
      {plan.uncovered.map(({ need, says, why, nearest, remedies }) => (
        <article class="rows" key={need}>
          <h4>{need}</h4>
          <p>{says}</p>
          <ul>
            {why.map((each) => (
              <li key={each.machine}>
                {each.machine}: {each.says}
              </li>
            ))}
          </ul>
          {nearest && remedies.length > 0 && (
            <>
              <p>
                What would make {nearest.machine} right at {nearest.circuit}:
              </p>
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
      <h3>Which machine covers which work</h3>
      <table class="facts">
        <thead>
          <tr>
            <th scope="col">Work</th>
            <th scope="col">Covered by</th>
          </tr>
        </thead>
        <tbody>
          {plan.covers.map(({ need, machines, marginal }) => (
            <tr key={need}>
              <th scope="row">{need}</th>
              <td>
                {machines.join(', ') || 'nothing'}
                {marginal.length > 0 && `; only just, measure first: ${marginal.join(', ')}`}
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
      <h3>Every machine on every circuit</h3>
      <table class="matrix">
        <thead>
          <tr>
            <th scope="col">Circuit</th>
            <th scope="col">At the machine, at full current</th>
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

const because = ({ verdict, findings }: PlanRow): string | undefined =>
  findings.find((finding) => finding.verdict === verdict)?.says;

function Row({ row }: { row: PlanRow }) {
  const { circuit, supply, verdict, voltsAtFullLoad, volts95 } = row;
  return (
    <tr>
      <th scope="row">
        {circuit}
        <small>{supply === 'unknown' ? 'supply not known' : supply}</small>
        {verdict !== 'adequate' && <small class="because">{because(row)}</small>}
      </th>
      <td>
        <span class="verdict-word">
          <VerdictMark verdict={verdict} size={20} />
          <strong class={verdict}>{verdictWord(verdict)}</strong>
        </span>
        <span class="volts">
          {voltsAtFullLoad === null ? 'not foretold' : `${figure(voltsAtFullLoad)} V`}
        </span>
        {volts95 && (
          <small>
            {figure(volts95[0])} to {figure(volts95[1])}
          </small>
        )}
      </td>
    </tr>
  );
}

function Said({ title, words }: { title: string; words: readonly string[] }) {
  if (words.length === 0) return null;
  return (
    <section>
      <h3>{title}</h3>
      <ul>
        {words.map((each) => (
          <li key={each}>{each}</li>
        ))}
      </ul>
    </section>
  );
}
