import { useEffect, useState } from 'preact/hooks';
import type { Remedies } from '../../../../shared/protocol/http-plan.ts';
import { remediesOf } from '../parts/api.ts';
import { figure } from '../parts/format.ts';
import { Ladder, type LadderFacts } from '../parts/ladder.tsx';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { RemedyList } from './remedy-list.tsx';

const gauges = [16, 14, 12, 10, 8, 6] as const;
const longestFeet = 150;
/** A slider is asked about once the hand rests. */
const restMs = 120;
const supplies = {
  measured: 'By what was measured at this outlet.',
  described: 'By the description of the circuit alone: nothing heavy was measured here yet.',
  unknown: 'Neither measured nor described well enough to say.',
};

/** What would make it right: ways out, and a cord to try with the hand on a slider. */
export function RemediesView({ id }: { id: string }) {
  const [answer, setAnswer] = useState<Remedies | null>(null);
  const [fault, setFault] = useState('');
  const [awg, setAwg] = useState<number>(12);
  const [feet, setFeet] = useState(25);
  useEffect(() => {
    const rest = setTimeout(
      () =>
        remediesOf(id, { awg: awg as 12, feet }).then(setAnswer, (error: Error) =>
          setFault(error.message),
        ),
      restMs,
    );
    return () => clearTimeout(rest);
  }, [id, awg, feet]);
  if (!answer)
    return (
      <main class="empty">
        <h1 tabIndex={-1}>What would make it right</h1>
        <p>{fault || 'Working it out …'}</p>
      </main>
    );
  const { tried } = answer;
  return (
    <main class="narrow check">
      <p class="back">
        <a href={`#/circuit/${encodeURIComponent(id)}`}>← {answer.circuit}</a>
      </p>
      <h1 tabIndex={-1}>What would make it right</h1>
      <p>
        {answer.machine} at full load on {answer.circuit}. {supplies[answer.supply]}
      </p>
      <section class="trial">
        <Trial says="As it is" {...{ answer, tried: answer.now }} />
        <div>
          <h2>Try another cord</h2>
          <label class="field">
            Gauge
            <select onChange={(event) => setAwg(Number(event.currentTarget.value))}>
              {gauges.map((size) => (
                <option key={size} value={size} selected={size === awg}>
                  AWG {size}
                </option>
              ))}
            </select>
          </label>
          <label class="field">
            Length: {feet} ft
            <input
              type="range"
              min={0}
              max={longestFeet}
              step={5}
              value={feet}
              onInput={(event) => setFeet(Number(event.currentTarget.value))}
            />
          </label>
        </div>
        {tried && <Trial says={`${feet} ft of AWG ${awg}`} {...{ answer, tried }} />}
      </section>
      <h2>Ways out</h2>
      {answer.remedies.length === 0 && <p class="empty">None is needed, or none is known.</p>}
      <RemedyList remedies={answer.remedies} />
      {answer.cautions.map((caution) => (
        <p key={caution} class="where">
          {caution}
        </p>
      ))}
    </main>
  );
}

interface TrialProps {
  says: string;
  answer: Remedies;
  tried: Remedies['now'];
}

function Trial({ says, answer, tried }: TrialProps) {
  const facts = trialLadder(answer, tried);
  return (
    <div class="outcome">
      <h2>{says}</h2>
      <p role="status">
        <VerdictMark verdict={tried.verdict} /> <strong>{verdictWord[tried.verdict]}</strong>
        {tried.volts !== null && `, about ${figure(tried.volts, 0)} V`}
      </p>
      {facts && <Ladder facts={facts} />}
    </div>
  );
}

function trialLadder(answer: Remedies, { volts, volts95 }: Remedies['now']): LadderFacts | null {
  const rated = answer.plateVolts;
  if (rated === null) return null;
  const foretold =
    volts === null ? null : { volts, low: volts95?.[0] ?? volts, high: volts95?.[1] ?? volts };
  return {
    ...{ rated, band: [rated * 0.9, rated * 1.1], open: answer.openVolts, arc: null, foretold },
  };
}
