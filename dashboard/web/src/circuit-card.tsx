import { useComputed } from '@preact/signals';
import type { Reading, Sensor } from '../../../shared/protocol/http.ts';
import type { Verdict } from '../../../shared/protocol/judgement.ts';
import { type Circuit, link, title } from './floor-state.ts';
import { clock, figure } from './format.ts';
import { Ladder } from './ladder.tsx';
import { ladderFacts, terminalVolts } from './plate-band.ts';
import { VerdictMark, verdictWord } from './verdict-mark.tsx';

/** One circuit on the floor: its name, what it does now, its ladder, its last verdict. */
export function CircuitCard({ circuit }: { circuit: Circuit }) {
  const sensor = circuit.sensor.value;
  const soFar = circuit.soFar.value;
  const last = sensor.lastArc;
  const state = stateOf(sensor);
  const verdict: Verdict | null = soFar?.verdict ?? last?.verdict ?? null;
  return (
    <article class={`card ${state.kind} ${verdict ?? ''}`} aria-label={title(sensor)}>
      <header>
        <h2>{title(sensor)}</h2>
        <p class="state">
          <span class={`lamp ${state.kind}`} aria-hidden="true" />
          {state.words} · at the {sensor.at}
        </p>
      </header>
      <div class="now">
        <Figure circuit={circuit} unit="V" of={volts} decimals={1} />
        <Figure circuit={circuit} unit="A" of={amps} decimals={1} />
      </div>
      <CardLadder circuit={circuit} />
      <footer>
        {soFar ? (
          <Said verdict={soFar.verdict} says={soFar.says} when="arc on now" />
        ) : last ? (
          <a class="said" href={`#/arc/${last.id}`}>
            <Said
              verdict={last.verdict}
              says={last.says}
              when={`arc at ${clock(last.startedAt)}`}
            />
          </a>
        ) : (
          <p class="said none">No arc yet.</p>
        )}
        {sensor.flags > 0 && (
          <p class="flags">
            {sensor.flags} underpowered {sensor.flags === 1 ? 'arc' : 'arcs'} not yet seen by anyone
          </p>
        )}
        <p class="plate">{sensor.plate?.plate.name ?? 'No machine named'}</p>
      </footer>
    </article>
  );
}

const volts = (reading: Reading, sensor: Sensor) =>
  terminalVolts(reading.volts, sensor.circuit?.circuit.volts ?? null);
const amps = (reading: Reading) => Math.max(...reading.amps);

interface FigureFacts {
  circuit: Circuit;
  unit: string;
  of(reading: Reading, sensor: Sensor): number;
  decimals: number;
}

/** Bound to its signal, so that a new reading touches one text node and no component. */
function Figure({ circuit, unit, of, decimals }: FigureFacts) {
  const text = useComputed(() => {
    const reading = circuit.reading.value;
    return reading ? figure(of(reading, circuit.sensor.value), decimals) : '–';
  });
  return (
    <p class="figure">
      <span class="value">{text}</span>{' '}
      <abbr title={unit === 'V' ? 'volts' : 'amperes'}>{unit}</abbr>
    </p>
  );
}

function CardLadder({ circuit }: { circuit: Circuit }) {
  const sensor = circuit.sensor.value;
  const arc = circuit.arc.value;
  const reading = circuit.reading.value;
  const open = arc || !reading ? null : Math.round(volts(reading, sensor) * 2) / 2;
  const plate = sensor.plate?.plate ?? null;
  const facts = ladderFacts(arc, plate, sensor.circuit?.circuit ?? null, open);
  if (!facts) return null;
  return <Ladder facts={facts} />;
}

function Said({ verdict, says, when }: { verdict: Verdict; says: string; when: string }) {
  return (
    <span class="said-body">
      <VerdictMark verdict={verdict} />
      <span>
        <strong class={verdict}>{verdictWord[verdict]}</strong> <small>{when}</small>
        <br />
        {says}
      </span>
    </span>
  );
}

/** A circuit that is quiet, one that nobody hears from, and a page that is itself cut off. */
function stateOf(sensor: Sensor): { kind: string; words: string } {
  if (link.value !== 'live') return { kind: 'stale', words: 'Not live: last known state' };
  switch (sensor.state) {
    case 'arc':
      return { kind: 'arc', words: 'Arc on' };
    case 'online':
      return { kind: 'quiet', words: 'Quiet' };
    case 'offline':
      return { kind: 'offline', words: `Switched off at ${clock(sensor.stateSince)}` };
    case 'lost':
      return { kind: 'offline', words: `Silent since ${clock(sensor.stateSince)}` };
  }
}
