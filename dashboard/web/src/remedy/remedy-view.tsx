import { useEffect, useState } from 'preact/hooks';
import type { Cord } from '../../../../shared/protocol/circuit.ts';
import type { Remedies, Tried } from '../../../../shared/protocol/http-plan.ts';
import { cordWords } from '../check/check-words.ts';
import { awgSizes, mm2Sizes } from '../check/cord-fields.tsx';
import { remediesAt, tryCord } from '../parts/api.ts';
import { figure } from '../parts/format.ts';
import { Ladder, type LadderFacts } from '../parts/ladder.tsx';
import { said } from '../parts/said.ts';
import { gaugeText, lengthText, lengthUnit } from '../parts/units.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { RemedyList } from './remedy-list.tsx';

/** A slider moves faster than a server should be asked. */
const askAfterMs = 120;

/** What would make it right at one outlet: sliders for the cord, then the list of changes. */
export function RemedyView({ sensor }: { sensor: string }) {
  const [known, setKnown] = useState<Remedies | null>(null);
  const [fault, setFault] = useState('');
  useEffect(() => {
    remediesAt(sensor).then(setKnown, (error: Error) => setFault(error.message));
  }, [sensor]);
  return (
    <main class="narrow check">
      <p class="back">
        <a href={`#/circuit/${encodeURIComponent(sensor)}`}>{words.remedy.back}</a>
      </p>
      <h1 tabIndex={-1}>{words.remedy.heading}</h1>
      <p class="fault" role="alert">
        {fault}
      </p>
      {known && <Found sensor={sensor} known={known} />}
    </main>
  );
}

function Found({ sensor, known }: { sensor: string; known: Remedies }) {
  const { now, remedies } = known;
  return (
    <>
      <p>
        {words.remedy.now(known.machine, known.circuit, cordWords(now.cords))}
        <strong class={now.verdict}>{verdictWord(now.verdict)}</strong>
      </p>
      <p>{words.remedy.standsOn[known.supply]}</p>
      {known.supply !== 'unknown' && <Sliders sensor={sensor} known={known} />}
      <section>
        <h2>{words.remedy.changes}</h2>
        {remedies.length > 0 ? (
          <RemedyList remedies={remedies} />
        ) : (
          <p>{now.verdict === 'adequate' ? words.remedy.noneNeeded : words.remedy.noneKnown}</p>
        )}
      </section>
      <section>
        <h2>{words.remedy.cautions}</h2>
        <ul>
          {known.cautions
            .map((says) => said({ says }))
            .map((each) => (
              <li key={each}>{each}</li>
            ))}
        </ul>
      </section>
    </>
  );
}

/** Of which sizes the thickness slider is made, and how far the length goes. */
const units = {
  feet: { sizes: awgSizes, most: 200, step: 5, key: 'awg' },
  metres: { sizes: mm2Sizes, most: 60, step: 1, key: 'mm2' },
} as const;
type Unit = keyof typeof units;

function cordOf(unit: Unit, at: number, length: number): Cord | null {
  const size = units[unit].sizes[at]!;
  if (length === 0) return null;
  return unit === 'feet' ? { awg: size, feet: length } : { mm2: size, metres: length };
}

function Sliders({ sensor, known }: { sensor: string; known: Remedies }) {
  const [own] = known.now.cords;
  const [unit, setUnit] = useState<Unit>(
    own ? (own.metres === undefined ? 'feet' : 'metres') : lengthUnit(),
  );
  const { sizes, most, step, key } = units[unit];
  const listed = (sizes as readonly number[]).indexOf(Number(own?.[key] ?? Number.NaN));
  const [at, setAt] = useState(listed < 0 ? 3 : listed);
  const [length, setLength] = useState(Math.min(most, own?.[unit] ?? 0));
  const tried = useTried(sensor, cordOf(unit, at, length), known.now);
  const gauge = gaugeText({ [key]: sizes[at]! });
  const change = (to: Unit) => {
    setUnit(to);
    setAt(3);
    setLength(to === 'feet' ? Math.round((length * 3.281) / 5) * 5 : Math.round(length / 3.281));
  };
  return (
    <section class="try">
      <div class="try-cord">
        <h2>{words.remedy.tryCord}</h2>
        <Slider
          label={words.remedy.length}
          says={length === 0 ? words.remedy.noCord : lengthText({ [unit]: length })}
          value={length}
          {...{ most, step }}
          onValue={setLength}
        />
        <Slider
          label={words.remedy.thickness}
          says={gauge}
          value={at}
          {...{ most: sizes.length - 1, step: 1 }}
          onValue={setAt}
        />
        <fieldset class="choices">
          <legend class="unseen">{words.remedy.units}</legend>
          {(['feet', 'metres'] as const).map((each) => (
            <label key={each}>
              <input
                type="radio"
                name="unit"
                checked={unit === each}
                onChange={() => change(each)}
              />
              <span>{each === 'feet' ? 'ft, AWG' : 'm, mm²'}</span>
            </label>
          ))}
        </fieldset>
      </div>
      <Outcome known={known} {...tried} />
    </section>
  );
}

interface SliderProps {
  label: string;
  says: string;
  value: number;
  most: number;
  step: number;
  onValue(value: number): void;
}

function Slider({ label, says, value, most, step, onValue }: SliderProps) {
  return (
    <label class="slider">
      <span>
        {label} <strong>{says}</strong>
      </span>
      <input
        type="range"
        min={0}
        max={most}
        {...{ step, value }}
        aria-valuetext={says}
        onInput={(event) => onValue(Number(event.currentTarget.value))}
      />
    </label>
  );
}

/** Asks the server, the newest wish alone, and keeps the last answer until the next is there. */
function useTried(sensor: string, cord: Cord | null, first: Tried) {
  const [tried, setTried] = useState(first);
  const [fault, setFault] = useState('');
  const key = JSON.stringify(cord);
  useEffect(() => {
    let wanted = true;
    const wait = setTimeout(() => {
      tryCord(sensor, cord).then(
        (answer) => {
          if (!wanted || !answer.tried) return;
          setTried(answer.tried);
          setFault('');
        },
        (error: Error) => wanted && setFault(error.message),
      );
    }, askAfterMs);
    return () => {
      wanted = false;
      clearTimeout(wait);
    };
    // The cord by its value: a new object of the same cord is no other wish.
  }, [sensor, key]);
  return { tried, fault };
}

function Outcome({ known, tried, fault }: { known: Remedies; tried: Tried; fault: string }) {
  const { volts, volts95, verdict } = tried;
  const { needsVolts } = known;
  const weak = tried.findings.find((finding) => finding.verdict === verdict && finding.required);
  return (
    <div class="outcome">
      <div role="status">
        <p class="outcome-verdict">
          <VerdictMark verdict={verdict} size={40} />
          <strong class={verdict}>{verdictWord(verdict)}</strong>
        </p>
        <p>
          {words.remedy.with(cordWords(tried.cords))}
          {volts === null
            ? words.remedy.notForetold
            : words.remedy.foretold(
                figure(volts),
                figure(volts95?.[0]),
                figure(volts95?.[1]),
                figure(needsVolts),
              )}
        </p>
        {weak && verdict !== 'adequate' && <p>{said(weak)}</p>}
        {fault && <p class="fault">{fault}</p>}
      </div>
      <TriedLadder known={known} tried={tried} />
    </div>
  );
}

function TriedLadder({ known, tried }: { known: Remedies; tried: Tried }) {
  const { plateVolts: rated, openVolts: open } = known;
  if (rated === null) return null;
  const { volts, volts95 } = tried;
  const foretold =
    volts === null || volts95 === null ? null : { volts, low: volts95[0], high: volts95[1] };
  const facts: LadderFacts = {
    rated,
    band: [0.9 * rated, 1.1 * rated],
    open,
    arc: null,
    foretold,
  };
  return <Ladder facts={facts} />;
}
