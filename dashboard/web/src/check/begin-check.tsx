import { useEffect, useState } from 'preact/hooks';
import type { Sensor, StoredCircuit, StoredPlate } from '../../../../shared/protocol/http.ts';
import type { KeptCheck } from '../../../../shared/protocol/http-check.ts';
import { ordered } from '../live/floor-state.ts';
import { beginCheck, keptChecks, storedCircuits, storedPlates } from '../parts/api.ts';
import { clock, day } from '../parts/format.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { who } from '../parts/who.ts';
import { cordWords } from './check-words.ts';
import { CordFields, cordsOf, textOf } from './cord-fields.tsx';

interface Stock {
  circuits: StoredCircuit[];
  plates: StoredPlate[];
}

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
      <h1 tabIndex={-1}>Check an outlet</h1>
      <p>
        Before a heavy weld: does this outlet, with this cord, deliver what the machine’s plate
        needs? You weld a bead on a coupon; the sensor does the rest. It takes some minutes.
      </p>
      <p class="fault" role="alert">
        {fault}
      </p>
      {stock && sensors.length > 0 && <Begin sensors={sensors} first={sensor} {...stock} />}
      {stock && sensors.length === 0 && <p class="empty">No sensor has been heard yet.</p>}
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
        Sensor at the outlet
        <select value={at.id} onChange={(event) => setId(event.currentTarget.value)}>
          {sensors.map((sensor) => (
            <option key={sensor.id} value={sensor.id}>
              {sensor.name}, at the {sensor.at}
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
    const asked = { sensor: at.id, person: who.value, place, circuit, plate };
    try {
      const cordFrom = later && cord.gauge !== '' ? 'second-bead' : 'first-bead';
      const check = await beginCheck({ ...asked, cords: cordsOf(cord), cordFrom });
      location.hash = `#/check/${check.id}`;
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <form class="editor" onSubmit={begin}>
      <Pick label="Circuit" value={circuit} onPick={setCircuit}>
        {circuits.map((each) => [each.id, each.circuit.name])}
      </Pick>
      <Pick label="Machine" value={plate} onPick={setPlate}>
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
          <span>First bead without the cord, second with it</span>
        </label>
      )}
      <Words label="Where the vehicle stands" value={place} onWords={setPlace} />
      <Words
        label="Your name"
        value={who.value}
        onWords={(words) => {
          who.value = words;
        }}
      />
      <p class="fault" role="alert">
        {fault}
      </p>
      <button type="submit" class="wide main big">
        Begin the check
      </button>
    </form>
  );
}

interface PickProps {
  label: string;
  value: number;
  onPick(id: number): void;
  children: (readonly [id: number, words: string])[];
}

function Pick({ label, value, onPick, children }: PickProps) {
  return (
    <label class="field">
      {label}
      <select value={value} onChange={(event) => onPick(Number(event.currentTarget.value))}>
        {children.map(([id, words]) => (
          <option key={id} value={id}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}

function Words(props: { label: string; value: string; onWords(words: string): void }) {
  return (
    <label class="field">
      {props.label}
      <input
        required
        maxLength={80}
        value={props.value}
        onInput={(event) => props.onWords(event.currentTarget.value)}
      />
    </label>
  );
}

/** What was proven before, and whether it still holds. */
function Before({ checks }: { checks: KeptCheck[] }) {
  if (checks.length === 0) return null;
  return (
    <section>
      <h2>Checked before</h2>
      <ul class="kept-checks">
        {checks.map(({ id, verdict, circuit, machine, cords, date, person: by, staleness }) => (
          <li key={id}>
            <a href={`#/check/${id}`}>
              <VerdictMark verdict={verdict} />
              <span>
                <strong class={verdict}>{verdictWord(verdict)}</strong> {circuit ?? 'no circuit'}
                <small>
                  {machine ?? 'no machine'}, {cordWords(cords)}. {day(date)} {clock(date)}, {by}
                </small>
                {staleness.stale && (
                  <small class="stale">Holds no longer: {staleness.why.join(' ')}</small>
                )}
              </span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
