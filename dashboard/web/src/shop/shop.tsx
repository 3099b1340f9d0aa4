import { useEffect, useState } from 'preact/hooks';
import type { Sensor, StoredCircuit, StoredPlate } from '../../../../shared/protocol/http.ts';
import { ordered } from '../live/floor-state.ts';
import { assign, storedCircuits, storedPlates } from '../parts/api.ts';
import { figure } from '../parts/format.ts';
import { chosenTheme } from '../parts/theme.ts';

interface Stock {
  circuits: StoredCircuit[];
  plates: StoredPlate[];
}

/** What the shop has: which sensor watches which circuit and machine, and what each of them is. */
export function Shop() {
  const [stock, setStock] = useState<Stock | null>(null);
  const [fault, setFault] = useState('');
  useEffect(() => {
    Promise.all([storedCircuits(), storedPlates()]).then(
      ([circuits, plates]) => setStock({ circuits, plates }),
      (error: Error) => setFault(error.message),
    );
  }, []);
  return (
    <main class="narrow shop">
      <h1 tabIndex={-1}>Plates and circuits</h1>
      <p class="fault" role="alert">
        {fault}
      </p>
      {stock && <Assignments {...stock} />}
      {stock && <Lists {...stock} />}
      <Looks />
    </main>
  );
}

function Assignments({ circuits, plates }: Stock) {
  const sensors = ordered.value.map((circuit) => circuit.sensor.value);
  const [said, setSaid] = useState('');
  const put = async (sensor: Sensor, change: Partial<{ circuit: number; plate: number }>) => {
    const now = { circuit: sensor.circuit?.id ?? null, plate: sensor.plate?.id ?? null };
    const next = { ...now, ...change };
    setSaid('');
    try {
      await assign(sensor.id, { circuit: next.circuit || null, plate: next.plate || null });
      setSaid(`${sensor.name} is set. Arcs from now on are judged by it.`);
    } catch (error) {
      setSaid(`${sensor.name} is not set: ${(error as Error).message}`);
    }
  };
  return (
    <section>
      <h2>What hangs on each sensor</h2>
      <p class="fault" role="status">
        {said}
      </p>
      {sensors.map((sensor) => (
        <fieldset key={sensor.id} class="rows">
          <legend>
            {sensor.name}, at the {sensor.at}
          </legend>
          <div class="row">
            <Pick
              label="Circuit"
              value={sensor.circuit?.id ?? 0}
              options={circuits.map(({ id, circuit }) => [id, circuit.name])}
              onPick={(circuit) => put(sensor, { circuit })}
            />
            <Pick
              label="Machine plugged in"
              value={sensor.plate?.id ?? 0}
              options={plates.map(({ id, plate }) => [id, plate.name])}
              onPick={(plate) => put(sensor, { plate })}
            />
          </div>
        </fieldset>
      ))}
    </section>
  );
}

interface PickProps {
  label: string;
  value: number;
  options: (readonly [id: number, words: string])[];
  onPick(id: number): void;
}

function Pick({ label, value, options, onPick }: PickProps) {
  return (
    <label class="field">
      {label}
      <select value={value} onChange={(event) => onPick(Number(event.currentTarget.value))}>
        <option value={0}>not said</option>
        {options.map(([id, words]) => (
          <option key={id} value={id}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}

function Lists({ circuits, plates }: Stock) {
  return (
    <>
      <section>
        <h2>Circuits</h2>
        <ul class="stock">
          {circuits.map(({ id, circuit }) => (
            <li key={id}>
              <a href={`#/edit-circuit/${id}`}>{circuit.name}</a>
              <small>
                {figure(circuit.volts, 0)} V
                {circuit.breakerAmps !== undefined && `, ${circuit.breakerAmps} A breaker`}
                {circuit.dedicated && ', dedicated'}
              </small>
            </li>
          ))}
        </ul>
        <a class="button" href="#/edit-circuit/new">
          Add a circuit
        </a>
      </section>
      <section>
        <h2>Plates</h2>
        <ul class="stock">
          {plates.map(({ id, plate }) => (
            <li key={id}>
              <a href={`#/edit-plate/${id}`}>{plate.name}</a>
              <small>
                {plate.supply
                  .map((line) => `${figure(line.U1, 0)} V ${figure(line.I1max, 0)} A`)
                  .join(', ')}
              </small>
            </li>
          ))}
        </ul>
        <a class="button" href="#/edit-plate/new">
          Add a plate
        </a>
      </section>
    </>
  );
}

const looks = [
  ['device', 'As the device'],
  ['light', 'Light'],
  ['dark', 'Dark'],
] as const;

function Looks() {
  return (
    <section>
      <h2>This device</h2>
      <fieldset class="choices">
        <legend class="unseen">Light or dark</legend>
        {looks.map(([value, words]) => (
          <label key={value}>
            <input
              type="radio"
              name="theme"
              checked={chosenTheme.value === value}
              onChange={() => {
                chosenTheme.value = value;
              }}
            />
            <span>{words}</span>
          </label>
        ))}
      </fieldset>
    </section>
  );
}
