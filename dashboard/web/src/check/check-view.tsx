import { useEffect, useState } from 'preact/hooks';
import type { Check } from '../../../../shared/protocol/http-check.ts';
import type { CheckChoice, CheckTelling } from '../../../../shared/protocol/outlet-check.ts';
import { Figure, Lamp, useStanding } from '../floor/circuit-card.tsx';
import { type Circuit, circuits, link } from '../live/floor-state.ts';
import { nowMs, standing } from '../live/standing.ts';
import { check, chooseStep } from '../parts/api.ts';
import { Ladder } from '../parts/ladder.tsx';
import { said } from '../parts/said.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { checkLadder } from './check-ladder.ts';
import { checkNews } from './check-news.ts';
import { CheckResultView } from './check-result.tsx';
import { cordWords, way } from './check-words.ts';

/** An outlet check, one step at a time: what to do now, what is proven, what is missing and why. */
export function CheckView({ id }: { id: number }) {
  const [now, setNow] = useState<Check | null>(null);
  const [fault, setFault] = useState('');
  const news = checkNews.value;
  // Anew whenever the feed came back: what it told meanwhile was missed.
  const live = link.value === 'live';
  useEffect(() => {
    if (!live) return;
    check(id).then(setNow, (error: Error) => setFault(error.message));
  }, [id, live]);
  useEffect(() => {
    if (news?.id === id) setNow(news);
  }, [id, news]);
  if (!now)
    return (
      <main class="empty">
        <h1 tabIndex={-1}>{fault || words.check.looking}</h1>
      </main>
    );
  if (now.result) return <CheckResultView check={now} result={now.result} onSaved={setNow} />;
  const choose = async (choice: CheckChoice) => {
    setFault('');
    try {
      // The feed tells all pages, this one too; the answer is for when the feed is cut off.
      setNow(await chooseStep(id, choice));
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  const circuit = now.sensor === null ? undefined : circuits.value.get(now.sensor);
  const facts = checkLadder(now);
  const unheard = unheardOf(circuit, now.telling.step);
  return (
    <main class="narrow check">
      <Way step={now.telling.step} />
      <section class={`step ${now.telling.verdict === 'unsuited' ? 'unsuited' : ''}`}>
        <div>
          <Forbidden telling={now.telling} />
          <h1 tabIndex={-1}>{words.check.steps[now.telling.step]}</h1>
          <p class="do-now" role="status">
            {unheard ? words.check.unheard[unheard] : said({ says: now.telling.doNow })}
          </p>
          {circuit && <Reading circuit={circuit} />}
        </div>
        {facts && <Ladder facts={facts} />}
      </section>
      <Said telling={now.telling} fault={fault} />
      <Onward telling={now.telling} onChoose={choose} />
      <Wants telling={now.telling} />
      <OtherChoices key={now.telling.step} telling={now.telling} onChoose={choose} />
      {now.telling.step === 'stopped' && (
        <a class="button wide main" href={`#/checks/${encodeURIComponent(now.sensor ?? '')}`}>
          {words.check.beginNew}
        </a>
      )}
      <p class="about">
        {words.check.about(
          now.plate?.name ?? words.check.noMachine,
          now.circuit?.name ?? words.check.noCircuit,
          cordWords(now.circuit?.cords ?? []),
          now.about.person,
          now.about.place,
        )}
      </p>
      <p class="about caution">{words.check.caution}</p>
    </main>
  );
}

/** Why nothing new can come in, if so: the sensor's doing, or the page's own. */
function unheardOf(
  circuit: Circuit | undefined,
  step: CheckTelling['step'],
): keyof typeof words.check.unheard | null {
  if (step === 'stopped') return null;
  if (link.value !== 'live') return 'server';
  if (!circuit) return null;
  const { kind } = standing(circuit.sensor.value, circuit.heardMs, link.value, nowMs.value);
  return kind === 'off' || kind === 'lost' || kind === 'late' ? 'sensor' : null;
}

/** Over all else: what must not be plugged in needs no step more. */
function Forbidden({ telling }: { telling: CheckTelling }) {
  if (telling.verdict !== 'unsuited') return null;
  return (
    <p class="mismatch unsuited" role="alert">
      <VerdictMark verdict="unsuited" size={48} />
      <strong class="unsuited">{verdictWord('unsuited')}</strong>
    </p>
  );
}

function Way({ step }: { step: CheckTelling['step'] }) {
  const at = step === 'second-bead' ? 'first-bead' : step;
  const reached = way.indexOf(at);
  return (
    <ol class="way" aria-label={words.check.stepList}>
      {way.map((each, index) => (
        <li
          key={each}
          class={index < reached ? 'done' : ''}
          {...(each === at ? { 'aria-current': 'step' as const } : {})}
        >
          <span>{words.check.steps[each]}</span>
        </li>
      ))}
    </ol>
  );
}

/** The outlet now, so that the person sees what the sensor sees. */
function Reading({ circuit }: { circuit: Circuit }) {
  const stands = useStanding(circuit);
  return (
    <>
      <div class="now">
        <Figure circuit={circuit} unit="V" />
        <Figure circuit={circuit} unit="A" />
      </div>
      <p class="state">
        <Lamp kind={stands.kind} /> {stands.words}
      </p>
    </>
  );
}

function Said({ telling, fault }: { telling: CheckTelling; fault: string }) {
  const { warnings, warningSayings, note, noteSaying } = telling;
  return (
    <>
      {warnings.map((says, at) => (
        <p key={says} class="warning">
          <strong>{words.check.mind}</strong> {said({ says, saying: warningSayings[at] })}
        </p>
      ))}
      <p class="note" role="alert">
        {fault || (note !== null && said({ says: note, saying: noteSaying ?? undefined }))}
      </p>
    </>
  );
}

function toDo(doNow: string, needed: boolean): string {
  const told = said({ says: doNow });
  return needed ? told : words.check.advice(told);
}

/** What this step wants to have seen: a tick was seen, dots are waited for; a word says which. */
function Wants({ telling }: { telling: CheckTelling }) {
  if (telling.wants.length === 0) return null;
  return (
    <section>
      <h2>{telling.enough ? words.check.enough : words.check.notEnough}</h2>
      <ul class="wants">
        {telling.wants.map(({ id, enough, says, saying, doNow, needed }) => (
          <li key={id} class={enough ? 'in' : ''}>
            <strong>
              <svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
                {enough ? <path d="M4 13l5 6 11-14" /> : <path d="M4 12h.01M12 12h.01M20 12h.01" />}
              </svg>
              {enough ? words.check.seen : words.check.missing}
            </strong>
            <span>
              {said({ says, saying })}
              {!enough && doNow && <small>{toDo(doNow, needed)}</small>}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

interface ChoicesProps {
  telling: CheckTelling;
  onChoose(choice: CheckChoice): void;
}

/** What leads on, once enough is in. */
const mainOf = ({ enough, choices }: CheckTelling): CheckChoice | undefined =>
  enough ? choices.find((choice) => choice === 'go-on' || choice === 'judge') : undefined;

/** Right under what to do now: a glove finds it without scrolling past the evidence. */
function Onward({ telling, onChoose }: ChoicesProps) {
  const main = mainOf(telling);
  if (!main) return null;
  return (
    <div class="choices-now">
      <button type="button" class="wide main big" onClick={() => onChoose(main)}>
        {words.check.choices[main]}
      </button>
    </div>
  );
}

function OtherChoices({ telling, onChoose }: ChoicesProps) {
  const [stopping, setStopping] = useState(false);
  const main = mainOf(telling);
  // A glove that slips must not end a check: to stop is said twice.
  const press = (choice: CheckChoice) =>
    choice === 'stop' && !stopping ? setStopping(true) : onChoose(choice);
  return (
    <div class="choices-now">
      {telling.choices
        .filter((choice) => choice !== main)
        .map((choice) => (
          <button key={choice} type="button" class="wide" onClick={() => press(choice)}>
            {choice === 'stop' && stopping ? words.check.surely : words.check.choices[choice]}
          </button>
        ))}
    </div>
  );
}
