import { useComputed } from '@preact/signals';
import { decidingFinding } from '../../../../shared/protocol/deciding-finding.ts';
import type { Reading, Sensor } from '../../../../shared/protocol/http.ts';
import type { Place, Verdict } from '../../../../shared/protocol/judgement.ts';
import { SetUpLine } from '../jobs/set-up-line.tsx';
import { type Circuit, link, sharesCircuit, title } from '../live/floor-state.ts';
import { nowMs, type Standing, standing } from '../live/standing.ts';
import { clock, figure } from '../parts/format.ts';
import { Ladder } from '../parts/ladder.tsx';
import { MismatchNote } from '../parts/mismatch-note.tsx';
import { placeOf } from '../parts/place-of.ts';
import { ladderFacts, terminalVolts } from '../parts/plate-band.ts';
import { said } from '../parts/said.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { DutyLine } from './duty-line.tsx';
import { FlagMark } from './flag-mark.tsx';

/** One sensor's circuit on the floor: its name, what it does now, its ladder, its last verdict. */
export function CircuitCard({ circuit }: { circuit: Circuit }) {
  const sensor = circuit.sensor.value;
  const stands = useStanding(circuit);
  const verdict = verdictNow(circuit) ?? '';
  const shared = sharesCircuit(sensor);
  return (
    <article class={`card ${stands.kind} ${verdict}`} aria-label={fullTitle(sensor)}>
      <header>
        <h2>
          <a href={`#/circuit/${encodeURIComponent(sensor.id)}`}>
            {title(sensor)} {shared && <span class="end">· {words.floor.end[sensor.at]}</span>}
          </a>
        </h2>
        <p class="state">
          <Lamp kind={stands.kind} />
          {stands.words}
          {!shared && ` · ${words.floor.at[sensor.at]}`}
        </p>
      </header>
      <div class="now">
        <Figure circuit={circuit} unit="V" />
        <Figure circuit={circuit} unit="A" />
      </div>
      <CardLadder circuit={circuit} />
      <footer>
        <MismatchNote mismatch={sensor.mismatch} />
        <LastWord circuit={circuit} />
        <SetUpLine sensor={sensor} />
        {sensor.flags > 0 && (
          <a class="flags" href={`#/flags/${encodeURIComponent(sensor.id)}`}>
            <FlagMark />
            {words.floor.notAcknowledged(sensor.flags)}
          </a>
        )}
        <DutyLine duty={sensor.duty} plate={sensor.plate?.plate ?? null} />
      </footer>
    </article>
  );
}

/** Of the arc that burns; else that machine and supply do not go together; else of the last arc. */
export function verdictNow(circuit: Circuit): Verdict | null {
  const { mismatch, lastArc } = circuit.sensor.value;
  return circuit.soFar.value?.verdict ?? mismatch?.verdict ?? lastArc?.verdict ?? null;
}

export function fullTitle(sensor: Sensor): string {
  return sharesCircuit(sensor) ? `${title(sensor)}, ${words.floor.end[sensor.at]}` : title(sensor);
}

/** Only a change of standing draws a card anew, not each second. */
export function useStanding(circuit: Circuit): Standing {
  const told = useComputed(() => {
    const { kind, words } = standing(
      circuit.sensor.value,
      circuit.heardMs,
      link.value,
      nowMs.value,
    );
    return `${kind}|${words}`;
  });
  const [kind, says] = told.value.split('|') as [Standing['kind'], string];
  return { kind, words: says };
}

/** A full disc while an arc burns, an open ring when quiet, a crossed square when not heard. */
export function Lamp({ kind }: { kind: Standing['kind'] }) {
  return <span class={`lamp ${kind}`} aria-hidden="true" />;
}

export function LastWord({ circuit }: { circuit: Circuit }) {
  const soFar = circuit.soFar.value;
  const { lastArc: last, mismatch } = circuit.sensor.value;
  const place = placeOf(circuit.sensor.value);
  // Said above it already, and larger.
  const told = mismatch?.verdict === 'unsuited' ? 'unsuited' : null;
  if (soFar?.verdict === 'unsuited' && told) return null;
  if (soFar)
    return (
      <div class="said">
        <Last
          {...{ verdict: soFar.verdict, place }}
          says={soFarSays(circuit)}
          when={words.floor.arcOnNow}
        />
      </div>
    );
  if (!last) return <p class="said none">{words.floor.noArc}</p>;
  return (
    <a class="said" href={`#/arc/${last.id}`}>
      <Last
        {...{ verdict: last.verdict, place }}
        says={last.verdict === told ? '' : said(last)}
        when={words.floor.arcAt(clock(last.startedAt))}
      />
    </a>
  );
}

const volts = (reading: Reading, sensor: Sensor) =>
  terminalVolts(reading.volts, sensor.circuit?.circuit.volts ?? null, sensor.lastArc?.terminals);
const amps = (reading: Reading) => Math.max(...reading.amps);

/** The provisional judgement came with the open arc; its finding can be said in any language. */
function soFarSays(circuit: Circuit): string {
  const { verdict, says } = circuit.soFar.value!;
  const finding = decidingFinding(verdict, circuit.arc.value?.findings ?? []);
  return said({ says, saying: finding?.says === says ? finding.saying : undefined });
}

/** Bound to its signal, so that a new reading touches one text node and no component. */
export function Figure({ circuit, unit }: { circuit: Circuit; unit: 'V' | 'A' }) {
  const text = useComputed(() => {
    const reading = circuit.reading.value;
    if (!reading) return '–';
    return figure(unit === 'V' ? volts(reading, circuit.sensor.value) : amps(reading));
  });
  return (
    <p class="figure">
      <span class="value">{text}</span>{' '}
      <abbr title={unit === 'V' ? words.floor.volts : words.floor.amperes}>{unit}</abbr>
    </p>
  );
}

export function CardLadder({ circuit }: { circuit: Circuit }) {
  const sensor = circuit.sensor.value;
  const arc = circuit.arc.value;
  const open = useComputed(() => {
    const reading = circuit.reading.value;
    if (circuit.arc.value || !reading) return null;
    return Math.round(volts(reading, circuit.sensor.value) * 2) / 2;
  });
  const plate = sensor.plate?.plate ?? null;
  const facts = ladderFacts(arc, plate, sensor.circuit?.circuit ?? null, open.value);
  if (!facts) return <p class="ladder no-plate">{words.floor.noPlate}</p>;
  return <Ladder facts={facts} />;
}

interface LastProps {
  verdict: Verdict;
  place: Place;
  says: string;
  when: string;
}

function Last({ verdict, place, says, when }: LastProps) {
  return (
    <span class="said-body">
      <VerdictMark verdict={verdict} />
      <span>
        <strong class={verdict}>{verdictWord(verdict, place)}</strong> <small>{when}</small>
        <br />
        {says}
      </span>
    </span>
  );
}
