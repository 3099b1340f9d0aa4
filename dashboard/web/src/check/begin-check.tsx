import { useEffect, useState } from 'preact/hooks';
import type { Sensor } from '../../../../shared/protocol/http.ts';
import type { KeptCheck } from '../../../../shared/protocol/http-check.ts';
import { fullTitle } from '../floor/circuit-card.tsx';
import { ordered } from '../live/floor-state.ts';
import { beginCheck, keptChecks, storedCircuits, storedPlates } from '../parts/api.ts';
import { when } from '../parts/format.ts';
import { Pick } from '../parts/pick.tsx';
import { saidInTurn } from '../parts/said.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { signedBy } from '../people/your-name.tsx';
import { cordWords } from './check-words.ts';
import { cordsOf, textOf } from './cord-fields.tsx';
import { type Stock, type Subject, SubjectFields } from './fields.tsx';
import { FromRecording } from './from-recording.tsx';

/** Before a heavy weld: begin a check of an outlet, or see what was proven before. */
export function BeginCheck({ sensor }: { sensor: string | null }) {
  const [stock, setStock] = useState<Stock | null>(null);
  const [checks, setChecks] = useState<KeptCheck[] | null>(null);
  const [fault, setFault] = useState('');
  useEffect(() => {
    const failed = (error: Error) => setFault(error.message);
    Promise.all([storedCircuits(), storedPlates()]).then(
      ([circuits, plates]) => setStock({ circuits, plates }),
      failed,
    );
    keptChecks(null).then(setChecks, failed);
  }, []);
  const sensors = ordered.value.map((circuit) => circuit.sensor.value);
  return (
    <main class="narrow check">
      <h1 tabIndex={-1}>{words.check.heading}</h1>
      <p>{words.check.intro}</p>
      <p class="fault" role="alert">
        {fault}
      </p>
      {stock && sensors.length > 0 && <Begin sensors={sensors} first={sensor} stock={stock} />}
      {stock && sensors.length === 0 && <p class="empty">{words.check.noSensor}</p>}
      {stock && <FromRecording {...stock} />}
      {checks && <Before checks={checks} />}
    </main>
  );
}

interface BeginProps {
  sensors: Sensor[];
  first: string | null;
  stock: Stock;
}

function Begin({ sensors, first, stock }: BeginProps) {
  const [id, setId] = useState(first ?? sensors[0]!.id);
  const at = sensors.find((sensor) => sensor.id === id) ?? sensors[0]!;
  return (
    <>
      <Pick
        label={words.check.sensor}
        value={at.id}
        options={sensors.map((sensor) => [sensor.id, fullTitle(sensor)])}
        onPick={setId}
      />
      <Wish key={at.id} at={at} stock={stock} />
    </>
  );
}

function Wish({ at, stock }: { at: Sensor; stock: Stock }) {
  const [of, setOf] = useState<Subject>({
    circuit: at.circuit?.id ?? stock.circuits[0]?.id ?? 0,
    plate: at.plate?.id ?? stock.plates[0]?.id ?? 0,
    cord: textOf(at.circuit?.circuit.cords?.[0]),
    place: '',
  });
  const [later, setLater] = useState(false);
  const hasCord = of.cord.gauge !== '';
  const [fault, setFault] = useState('');
  const burns = burnsHere(at.id, of.circuit);
  const begin = async (event: Event) => {
    event.preventDefault();
    try {
      const { cord, ...rest } = of;
      const asked = { sensor: at.id, ...signedBy('person'), ...rest, cords: cordsOf(cord) };
      const cordFrom = later && hasCord ? 'second-bead' : 'first-bead';
      const check = await beginCheck({ ...asked, cordFrom });
      location.hash = `#/check/${check.id}`;
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <form class="editor" onSubmit={begin}>
      <SubjectFields stock={stock} value={of} onChange={setOf}>
        {hasCord && (
          <label class="tick">
            <input
              type="checkbox"
              checked={later}
              onChange={(event) => setLater(event.currentTarget.checked)}
            />
            <span>{words.check.cordLater}</span>
          </label>
        )}
      </SubjectFields>
      <p class="fault" role="alert">
        {fault}
      </p>
      <button type="submit" class="wide main big" disabled={burns}>
        {burns ? words.check.waitForArc : words.check.begin}
      </button>
    </form>
  );
}

/** An arc at this sensor, or at another end of the same circuit: no check begins beside it. */
const burnsHere = (sensor: string, circuit: number): boolean =>
  ordered.value
    .map((one) => one.sensor.value)
    .some((one) => one.openArc && (one.id === sensor || one.circuit?.id === circuit));

/** What was proven before, and whether it still holds. */
function Before({ checks }: { checks: KeptCheck[] }) {
  if (checks.length === 0) return null;
  return (
    <section>
      <h2>{words.check.before}</h2>
      <ul class="kept-checks">
        {checks.map(
          ({ id, verdict, circuit, machine, cords, date, person: by, recording, staleness }) => (
            <li key={id}>
              <a href={`#/check/${id}`}>
                <VerdictMark verdict={verdict} />
                <span>
                  <strong class={verdict}>{verdictWord(verdict)}</strong>{' '}
                  {circuit ?? words.check.noCircuit}
                  <small>
                    {machine ?? words.check.noMachine}, {cordWords(cords)}. {when(date)}, {by}
                    {recording && `, ${words.check.recording.made(recording)}`}
                  </small>
                  {staleness.stale && (
                    <small class="stale">
                      {words.check.stale} {saidInTurn(staleness.why, staleness.sayings)}
                    </small>
                  )}
                </span>
              </a>
            </li>
          ),
        )}
      </ul>
    </section>
  );
}
