import { useEffect, useState } from 'preact/hooks';
import type { Sensor, StoredCircuit, StoredPlate } from '../../../../shared/protocol/http.ts';
import type { StoredFeeder } from '../../../../shared/protocol/http-plan.ts';
import { ordered } from '../live/floor-state.ts';
import { assign, everyCircuit, everyPlate } from '../parts/api.ts';
import { figure } from '../parts/format.ts';
import { MismatchNote } from '../parts/mismatch-note.tsx';
import { Pick } from '../parts/pick.tsx';
import { words } from '../parts/words.ts';
import { everyFeeder } from './feeder-api.ts';
import { Feeders } from './feeders.tsx';

interface Stock {
  circuits: StoredCircuit[];
  plates: StoredPlate[];
  feeders: StoredFeeder[];
}

/** What the shop has: which sensor watches which circuit and machine, and what each of them is. */
export function Shop() {
  const [stock, setStock] = useState<Stock | null>(null);
  const [fault, setFault] = useState('');
  useEffect(() => {
    Promise.all([everyCircuit(), everyPlate(), everyFeeder()]).then(
      ([circuits, plates, feeders]) => setStock({ circuits, plates, feeders }),
      (error: Error) => setFault(error.message),
    );
  }, []);
  return (
    <main class="narrow shop">
      <h1 tabIndex={-1}>{words.shop.heading}</h1>
      <p class="fault" role="alert">
        {fault}
      </p>
      {stock && <Assignments {...stock} />}
      {stock && <Lists {...stock} />}
      {stock && <Feeders list={inUse(stock.feeders)} />}
      {stock && <Retired {...stock} />}
      <Ways />
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
      setSaid(words.shop.isSet(sensor.name));
    } catch (error) {
      setSaid(words.shop.isNotSet(sensor.name, (error as Error).message));
    }
  };
  return (
    <section>
      <h2>{words.shop.hangs}</h2>
      <p class="fault" role="status">
        {said}
      </p>
      {sensors.map((sensor) => (
        <fieldset key={sensor.id} class="rows">
          <legend>{words.shop.at[sensor.at](sensor.name)}</legend>
          <div class="row">
            <Pick
              label={words.shop.circuit}
              value={sensor.circuit?.id ?? 0}
              options={orNone(inUse(circuits).map(({ id, circuit }) => [id, circuit.name]))}
              onPick={(circuit) => put(sensor, { circuit })}
            />
            <Pick
              label={words.shop.machine}
              value={sensor.plate?.id ?? 0}
              options={orNone(inUse(plates).map(({ id, plate }) => [id, plate.name]))}
              onPick={(plate) => put(sensor, { plate })}
            />
          </div>
          <MismatchNote mismatch={sensor.mismatch} />
        </fieldset>
      ))}
    </section>
  );
}

/** None of them is 0, which no id is. */
const orNone = (options: [id: number, name: string][]): [id: number, name: string][] => [
  [0, words.shop.notSaid],
  ...options,
];

const inUse = <One extends { retired: boolean }>(all: readonly One[]): One[] =>
  all.filter(({ retired }) => !retired);

/** What is no longer offered, and can be taken back. */
function Retired({ circuits, plates, feeders }: Stock) {
  const gone = [
    ...circuits.map((one) => [`#/edit-circuit/${one.id}`, one.circuit.name, one] as const),
    ...plates.map((one) => [`#/edit-plate/${one.id}`, one.plate.name, one] as const),
    ...feeders.map((one) => [`#/edit-feeder/${one.id}`, one.feeder.name, one] as const),
  ].filter(([, , { retired }]) => retired);
  if (gone.length === 0) return null;
  return (
    <section>
      <h2>{words.shop.retiredOnes}</h2>
      <ul class="stock">
        {gone.map(([href, name]) => (
          <li key={href}>
            <a href={href}>{name}</a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Ways() {
  return (
    <section>
      <h2>{words.people.title}</h2>
      <ul class="stock">
        <li>
          <a href="#/people">{words.people.title}</a>
        </li>
        <li>
          <a href="#/audit">{words.people.changesLink}</a>
        </li>
      </ul>
    </section>
  );
}

function Lists({ circuits, plates }: Stock) {
  return (
    <>
      <section>
        <h2>{words.shop.circuits}</h2>
        <ul class="stock">
          {inUse(circuits).map(({ id, circuit }) => (
            <li key={id}>
              <a href={`#/edit-circuit/${id}`}>{circuit.name}</a>
              <small>
                {figure(circuit.volts, 0)} V
                {circuit.breakerAmps !== undefined &&
                  `, ${words.shop.breaker(`${circuit.breakerAmps} A`)}`}
                {circuit.dedicated && `, ${words.shop.dedicated}`}
              </small>
            </li>
          ))}
        </ul>
        <a class="button" href="#/edit-circuit/new">
          {words.shop.addCircuit}
        </a>
      </section>
      <section>
        <h2>{words.shop.plates}</h2>
        <ul class="stock">
          {inUse(plates).map(({ id, plate }) => (
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
          {words.shop.addPlate}
        </a>
      </section>
    </>
  );
}
