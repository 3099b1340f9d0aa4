import { useEffect, useState } from 'preact/hooks';
import type { Sensor } from '../../../../shared/protocol/http.ts';
import type { KeptCheck, NewCheck } from '../../../../shared/protocol/http-check.ts';
import { fullTitle } from '../floor/circuit-card.tsx';
import { ordered } from '../live/floor-state.ts';
import { beginCheck, keptChecks } from '../parts/api.ts';
import { clock, day } from '../parts/format.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { who } from '../parts/who.ts';

/** Where a check begins: at which outlet, by whom, with which cord; and what was checked before. */
export function CheckStart() {
  const sensors = ordered.value
    .map((circuit) => circuit.sensor.value)
    .filter((sensor) => sensor.circuit && sensor.plate);
  const [id, setId] = useState('');
  const [place, setPlace] = useState('');
  const [cordFrom, setCordFrom] = useState<NewCheck['cordFrom']>('first-bead');
  const [fault, setFault] = useState('');
  const sensor = sensors.find((each) => each.id === id) ?? sensors[0];
  const begin = async (event: Event) => {
    event.preventDefault();
    if (!sensor) return;
    try {
      const check = await beginCheck(newCheck(sensor, place, cordFrom));
      location.hash = `#/check/${check.id}`;
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <main class="narrow check">
      <h1 tabIndex={-1}>Check an outlet</h1>
      <p>
        Before a heavy weld: does this outlet, with this cord, feed this machine where the vehicle
        stands? It takes a bead or two on offcuts.
      </p>
      {!sensor && (
        <p class="empty">
          No sensor has a circuit and a machine yet: <a href="#/shop">say what hangs on it</a>.
        </p>
      )}
      {sensor && (
        <form onSubmit={begin}>
          <label class="field">
            Outlet
            <select onChange={(event) => setId(event.currentTarget.value)}>
              {sensors.map((each) => (
                <option key={each.id} value={each.id} selected={each.id === sensor.id}>
                  {fullTitle(each)} · {each.plate?.plate.name}
                </option>
              ))}
            </select>
          </label>
          <p class="where">
            {words(sensor)} <a href="#/shop">Not so? Say what hangs on it.</a>
          </p>
          <Text label="Your name" value={who.value} onText={(text) => (who.value = text)} />
          <Text label="Where the vehicle stands" value={place} onText={setPlace} />
          {(sensor.circuit?.circuit.cords?.length ?? 0) > 0 && (
            <label class="field">
              The cord
              <select
                onChange={(event) => setCordFrom(event.currentTarget.value as NewCheck['cordFrom'])}
              >
                <option value="first-bead">is plugged in from the first bead</option>
                <option value="second-bead">comes with a second bead</option>
              </select>
            </label>
          )}
          <p class="fault" role="alert">
            {fault}
          </p>
          <button type="submit" class="wide main">
            Begin
          </button>
        </form>
      )}
      <KeptChecks />
    </main>
  );
}

const newCheck = (sensor: Sensor, place: string, cordFrom: NewCheck['cordFrom']): NewCheck => ({
  sensor: sensor.id,
  person: who.value.trim(),
  place: place.trim(),
  circuit: sensor.circuit!.id,
  plate: sensor.plate!.id,
  cords: sensor.circuit!.circuit.cords ?? [],
  cordFrom,
});

function words({ plate, circuit }: Sensor): string {
  const cords = circuit?.circuit.cords ?? [];
  const behind =
    cords.length === 0
      ? 'no cord'
      : cords
          .map(
            (cord) =>
              `${cord.feet ?? cord.metres} ${cord.feet === undefined ? 'm' : 'ft'} of ` +
              (cord.awg === undefined ? `${cord.mm2} mm²` : `AWG ${cord.awg}`),
          )
          .join(' and ');
  return `${plate?.plate.name}, ${behind}.`;
}

interface TextProps {
  label: string;
  value: string;
  onText(text: string): void;
}

function Text({ label, value, onText }: TextProps) {
  return (
    <label class="field">
      {label}
      <input
        value={value}
        maxLength={80}
        required
        onInput={(event) => onText(event.currentTarget.value)}
      />
    </label>
  );
}

function KeptChecks() {
  const [list, setList] = useState<KeptCheck[]>([]);
  useEffect(() => {
    // Without the list a check can still be begun.
    keptChecks().then(setList, () => undefined);
  }, []);
  if (list.length === 0) return null;
  return (
    <section>
      <h2>Checked before</h2>
      <ul class="arcs">
        {list.map((check) => (
          <li key={check.id}>
            <a class="said" href={`#/check/${check.id}`}>
              <span class="said-body">
                <VerdictMark verdict={check.verdict} />
                <span>
                  <strong class={check.verdict}>{verdictWord[check.verdict]}</strong>{' '}
                  <small>
                    {day(check.date)} {clock(check.date)} · {check.person}
                  </small>
                  <br />
                  {check.circuit}, {check.machine}, at {check.place}
                  {check.staleness.stale && (
                    <small>
                      <br />
                      No longer holds: {check.staleness.why.join(' ')}
                    </small>
                  )}
                </span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
