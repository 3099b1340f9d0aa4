import { useEffect, useState } from 'preact/hooks';
import type { Sensor } from '../../../../shared/protocol/http.ts';
import type { KeptCheck } from '../../../../shared/protocol/http-check.ts';
import { ordered } from '../live/floor-state.ts';
import { beginCheck, keptChecks, storedCircuits, storedPlates } from '../parts/api.ts';
import { clock, day } from '../parts/format.ts';
import { saidInTurn } from '../parts/said.ts';
import { Typed } from '../parts/typed.tsx';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { signedBy, YourName } from '../people/your-name.tsx';
import { cordWords } from './check-words.ts';
import { CordFields, cordsOf, textOf } from './cord-fields.tsx';
import { Pick, type Stock } from './fields.tsx';
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
      {stock && sensors.length > 0 && <Begin sensors={sensors} first={sensor} {...stock} />}
      {stock && sensors.length === 0 && <p class="empty">{words.check.noSensor}</p>}
      {stock && <FromRecording {...stock} />}
      {checks && <Before checks={checks} />}
    </main>
  );
}

type BeginProps = Stock & { sensors: Sensor[]; first: string | null };

function Begin({ sensors, first, circuits, plates }: BeginProps) {
  const [id, setId] = useState(first ?? sensors[0]!.id);
  const at = sensors.find((sensor) => sensor.id === id) ?? sensors[0]!;
  return (
    <>
      <label class="field">
        {words.check.sensor}
        <select value={at.id} onChange={(event) => setId(event.currentTarget.value)}>
          {sensors.map((sensor) => (
            <option key={sensor.id} value={sensor.id}>
              {sensor.name}, {words.check.at[sensor.at]}
            </option>
          ))}
        </select>
      </label>
      <Wish key={at.id} at={at} circuits={circuits} plates={plates} />
    </>
  );
}

function Wish({ at, circuits, plates }: Stock & { at: Sensor }) {
  const [circuit, setCircuit] = useState(at.circuit?.id ?? circuits[0]?.id ?? 0);
  const [plate, setPlate] = useState(at.plate?.id ?? plates[0]?.id ?? 0);
  const [cord, setCord] = useState(textOf(at.circuit?.circuit.cords?.[0]));
  const [later, setLater] = useState(false);
  const [place, setPlace] = useState('');
  const [fault, setFault] = useState('');
  const begin = async (event: Event) => {
    event.preventDefault();
    try {
      const asked = { sensor: at.id, ...signedBy('person'), place, circuit, plate };
      const cordFrom = later && cord.gauge !== '' ? 'second-bead' : 'first-bead';
      const check = await beginCheck({ ...asked, cords: cordsOf(cord), cordFrom });
      location.hash = `#/check/${check.id}`;
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <form class="editor" onSubmit={begin}>
      <Pick label={words.check.circuit} value={circuit} onPick={setCircuit}>
        {circuits.map((each) => [each.id, each.circuit.name])}
      </Pick>
      <Pick label={words.check.machine} value={plate} onPick={setPlate}>
        {plates.map((each) => [each.id, each.plate.name])}
      </Pick>
      <CordFields value={cord} onChange={setCord} />
      {cord.gauge !== '' && (
        <label class="tick">
          <input
            type="checkbox"
            checked={later}
            onChange={(event) => setLater(event.currentTarget.checked)}
          />
          <span>{words.check.cordLater}</span>
        </label>
      )}
      <Typed label={words.check.place} value={place} onTyped={setPlace} />
      <YourName />
      <p class="fault" role="alert">
        {fault}
      </p>
      <button type="submit" class="wide main big">
        {words.check.begin}
      </button>
    </form>
  );
}

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
                    {machine ?? words.check.noMachine}, {cordWords(cords)}. {day(date)}{' '}
                    {clock(date)}, {by}
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
