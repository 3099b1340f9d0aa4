import { useComputed } from '@preact/signals';
import type { Reading, Sensor } from '../../../../shared/protocol/http.ts';
import type { Verdict } from '../../../../shared/protocol/judgement.ts';
import { type Circuit, link, sharesCircuit, title } from '../live/floor-state.ts';
import { nowMs, type Standing, standing } from '../live/standing.ts';
import { clock, figure } from '../parts/format.ts';
import { Ladder } from '../parts/ladder.tsx';
import { ladderFacts, terminalVolts } from '../parts/plate-band.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { DutyLine } from './duty-line.tsx';
import { FlagMark } from './flag-mark.tsx';

/** One sensor's circuit on the floor: its name, what it does now, its ladder, its last verdict. */
export function CircuitCard({ circuit }: { circuit: Circuit }) {
  const sensor = circuit.sensor.value;
  const stands = useStanding(circuit);
  const verdict = circuit.soFar.value?.verdict ?? sensor.lastArc?.verdict ?? '';
  const shared = sharesCircuit(sensor);
  return (
    <article class={`card ${stands.kind} ${verdict}`} aria-label={fullTitle(sensor)}>
      <header>
        <h2>
          <a href={`#/circuit/${encodeURIComponent(sensor.id)}`}>
            {title(sensor)}
            {shared && <span class="end"> · {sensor.at} end</span>}
          </a>
        </h2>
        <p class="state">
          <Lamp kind={stands.kind} />
          {stands.words}
          {!shared && ` · at the ${sensor.at}`}
        </p>
      </header>
      <div class="now">
        <Figure circuit={circuit} unit="V" />
        <Figure circuit={circuit} unit="A" />
      </div>
      <CardLadder circuit={circuit} />
      <footer>
        <LastWord circuit={circuit} />
        {sensor.flags > 0 && (
          <a class="flags" href={`#/flags/${encodeURIComponent(sensor.id)}`}>
            <FlagMark />
            {sensor.flags} not acknowledged
          </a>
        )}
        <DutyLine duty={sensor.duty} plate={sensor.plate?.plate ?? null} />
      </footer>
    </article>
  );
}

export function fullTitle(sensor: Sensor): string {
  return sharesCircuit(sensor) ? `${title(sensor)}, ${sensor.at} end` : title(sensor);
}

/** Only a change of standing draws a card anew, not each second. */
export function useStanding(circuit: Circuit): Standing {
  const words = useComputed(() => {
    const { kind, words } = standing(
      circuit.sensor.value,
      circuit.heardMs,
      link.value,
      nowMs.value,
    );
    return `${kind}|${words}`;
  });
  const [kind, says] = words.value.split('|') as [Standing['kind'], string];
  return { kind, words: says };
}

/** A full disc while an arc burns, an open ring when quiet, a crossed square when not heard. */
export function Lamp({ kind }: { kind: Standing['kind'] }) {
  return <span class={`lamp ${kind}`} aria-hidden="true" />;
}

export function LastWord({ circuit }: { circuit: Circuit }) {
  const soFar = circuit.soFar.value;
  const last = circuit.sensor.value.lastArc;
  if (soFar)
    return (
      <div class="said">
        <Said verdict={soFar.verdict} says={soFar.says} when="arc on now" />
      </div>
    );
  if (!last) return <p class="said none">No arc yet.</p>;
  return (
    <a class="said" href={`#/arc/${last.id}`}>
      <Said verdict={last.verdict} says={last.says} when={`arc at ${clock(last.startedAt)}`} />
    </a>
  );
}

const volts = (reading: Reading, sensor: Sensor) =>
  terminalVolts(reading.volts, sensor.circuit?.circuit.volts ?? null);
const amps = (reading: Reading) => Math.max(...reading.amps);

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
      <abbr title={unit === 'V' ? 'volts' : 'amperes'}>{unit}</abbr>
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
  if (!facts) return <p class="ladder no-plate">No plate: nothing to judge against</p>;
  return <Ladder facts={facts} />;
}

function Said({ verdict, says, when }: { verdict: Verdict; says: string; when: string }) {
  return (
    <span class="said-body">
      <VerdictMark verdict={verdict} />
      <span>
        <strong class={verdict}>{verdictWord(verdict)}</strong> <small>{when}</small>
        <br />
        {says}
      </span>
    </span>
  );
}
