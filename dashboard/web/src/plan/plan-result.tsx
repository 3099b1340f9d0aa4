import type { MachineSet, Plan } from '../../../../shared/protocol/planning.ts';
import { plain } from '../parts/format.ts';
import { said } from '../parts/said.ts';
import { words } from '../parts/words.ts';
import { RemedyList } from '../remedy/remedy-list.tsx';
import { PlanFeeders } from './plan-feeders.tsx';
import { Matrix } from './plan-matrix.tsx';

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
