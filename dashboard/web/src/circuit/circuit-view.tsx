import {
  CardLadder,
  Figure,
  fullTitle,
  Lamp,
  LastWord,
  useStanding,
} from '../floor/circuit-card.tsx';
import { DutyLine } from '../floor/duty-line.tsx';
import { type Circuit, circuits, link } from '../live/floor-state.ts';
import { MismatchNote } from '../parts/mismatch-note.tsx';
import { words } from '../parts/words.ts';
import { ArcsList } from './arcs-list.tsx';
import { AskPlace } from './ask-place.tsx';
import { HistoryCharts } from './history-charts.tsx';
import { LiveStrips } from './live-strips.tsx';
import { SagsChart } from './sags-chart.tsx';
import { SupplyCharts } from './supply-charts.tsx';

/** One circuit: how it stands, its strips, what it did, its arcs, its sags. */
export function CircuitView({ id }: { id: string }) {
  const circuit = circuits.value.get(id);
  if (!circuit)
    return (
      <main class="empty">
        <h1 tabIndex={-1}>
          {link.value === 'connecting' ? words.circuit.looking : words.circuit.none}
        </h1>
        {link.value === 'live' && <p>{words.circuit.noneCalled(id)}</p>}
      </main>
    );
  return (
    <main class="circuit">
      <Now circuit={circuit} />
      <LiveStrips circuit={circuit} />
      <ArcsList circuit={circuit} />
      <HistoryCharts circuit={circuit} />
      <SupplyCharts circuit={circuit} />
      <SagsChart circuit={circuit} />
    </main>
  );
}

function Now({ circuit }: { circuit: Circuit }) {
  const sensor = circuit.sensor.value;
  const stands = useStanding(circuit);
  const described = sensor.circuit;
  return (
    <section class={`standing card ${stands.kind}`}>
      <header>
        <h1 tabIndex={-1}>{fullTitle(sensor)}</h1>
        <p class="state">
          <Lamp kind={stands.kind} /> {stands.words} · {words.circuit.sensor(sensor.name)},{' '}
          {words.floor.at[sensor.at]}
        </p>
      </header>
      <div class="now">
        <Figure circuit={circuit} unit="V" />
        <Figure circuit={circuit} unit="A" />
      </div>
      <CardLadder circuit={circuit} />
      <footer>
        <MismatchNote mismatch={sensor.mismatch} />
        <AskPlace sensor={sensor} />
        <LastWord circuit={circuit} />
        <DutyLine duty={sensor.duty} plate={sensor.plate?.plate ?? null} />
        <p class="actions">
          {described && (
            <a class="button" href={`#/edit-circuit/${described.id}`}>
              {words.circuit.describe}
            </a>
          )}
          <a class="button" href={`#/checks/${encodeURIComponent(sensor.id)}`}>
            {words.circuit.check}
          </a>
          {described && sensor.plate && (
            <a class="button" href={`#/right/${encodeURIComponent(sensor.id)}`}>
              {words.circuit.makeRight}
            </a>
          )}
          <a class="button" href="#/shop">
            {words.circuit.hangs}
          </a>
        </p>
      </footer>
    </section>
  );
}
