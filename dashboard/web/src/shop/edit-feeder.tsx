import { useEffect, useState } from 'preact/hooks';
import type { FeederLoad, KeptFeeder } from '../../../../shared/protocol/feeder.ts';
import type { StoredCircuit } from '../../../../shared/protocol/http.ts';
import { everyCircuit } from '../parts/api.ts';
import { words } from '../parts/words.ts';
import { Load } from '../plan/plan-feeders.tsx';
import { MetalChoice, PhasesChoice } from './choices.tsx';
import { Conductor } from './conductor.tsx';
import { EditStock } from './edit-stock.tsx';
import { feederLoads } from './feeder-api.ts';
import { type Faults, Field } from './form.tsx';
import { kept } from './kept.ts';
import { Laid } from './laid.tsx';
import type { Stock } from './stock.ts';
import { TickList } from './tick-list.tsx';
import { toldInWords } from './told.ts';

/** What carries several circuits, with what the rules find of it as the machines hang now. */
export function EditFeeder({ id }: { id: number | null }) {
  const [circuits, setCircuits] = useState<StoredCircuit[] | null>(null);
  const [fault, setFault] = useState('');
  useEffect(() => {
    everyCircuit().then(setCircuits, (error: Error) => setFault(error.message));
  }, []);
  if (!circuits) return <main class="empty">{fault || words.shop.fetching}</main>;
  const stock: Stock<KeptFeeder> = {
    newTitle: words.feeders.newFeeder,
    retireSays: words.feeders.retireSays,
    ...kept('feeder'),
    fields: (feeder, faults) => <FeederFields {...{ feeder, circuits, faults }} />,
    told: (feeder) => toldInWords({ ...feeder, circuits: namesOf(feeder, circuits) }),
    beside: (stored) => !stored.retired && <Now key={stored.version} of={stored.value} />,
  };
  return <EditStock id={id} stock={stock} />;
}

/** In one order, whatever theirs is: it means nothing. */
const namesOf = (feeder: KeptFeeder, circuits: readonly StoredCircuit[]): string =>
  circuits
    .filter(({ id }) => feeder.circuits.includes(id))
    .map(({ circuit }) => circuit.name)
    .join('; ');

/** What hangs on it now; nothing where the server does not say. */
function Now({ of: { name } }: { of: KeptFeeder }) {
  const [load, setLoad] = useState<FeederLoad | undefined>(undefined);
  const [fault, setFault] = useState('');
  useEffect(() => {
    feederLoads().then(
      (loads) => setLoad(loads.find(({ feeder }) => feeder === name)),
      (error: Error) => setFault(error.message),
    );
  }, [name]);
  return (
    <>
      <p class="fault" role="alert">
        {fault}
      </p>
      {load && (
        <section class="made">
          <h2>{words.feeders.now}</h2>
          <Load load={load} as="h3" />
          <p>{words.plan.neither}</p>
        </section>
      )}
    </>
  );
}

interface FieldsProps {
  feeder: Partial<KeptFeeder>;
  circuits: readonly StoredCircuit[];
  faults: Faults;
}

function FeederFields({ feeder, circuits, faults }: FieldsProps) {
  const { name, volts, phases, breakerAmps, atOnce } = feeder;
  const own = new Set(feeder.circuits);
  // One that was retired since goes only where a hand takes it off.
  const offered = circuits
    .filter(({ id, retired }) => !retired || own.has(id))
    .map(({ id, circuit, retired }) => [String(id), named(circuit.name, retired)] as const);
  return (
    <>
      <p>{words.feeders.describe}</p>
      <Field path="name" label={words.feeders.name} kind="text" value={name} faults={faults} />
      <div class="row">
        <Field path="volts" label={words.shop.volts} value={volts} faults={faults} />
        <PhasesChoice path="phases" value={phases} faults={faults} />
        <Field
          path="breakerAmps"
          label={words.shop.breakerAmps}
          value={breakerAmps}
          faults={faults}
        />
      </div>
      <FeederWire conductor={feeder.conductor} faults={faults} />
      <Field
        path="atOnce"
        label={words.feeders.atOnce}
        hint={words.feeders.atOnceSuch}
        value={atOnce}
        faults={faults}
      />
      <TickList
        path="circuits"
        legend={words.feeders.circuits}
        kind="number"
        options={offered}
        initial={(feeder.circuits ?? []).map(String)}
        faults={faults}
      />
      {offered.length === 0 && <p>{words.feeders.noCircuits}</p>}
    </>
  );
}

const named = (name: string, retired: boolean): string =>
  retired ? words.shop.butRetired(name) : name;

interface WireProps {
  conductor: KeptFeeder['conductor'] | undefined;
  faults: Faults;
}

function FeederWire({ conductor = {}, faults }: WireProps) {
  return (
    <fieldset class="rows">
      <legend>{words.feeders.conductor}</legend>
      <div class="row">
        <Conductor path="conductor" value={conductor} faults={faults} large />
        <MetalChoice path="conductor.metal" value={conductor.metal} faults={faults} />
      </div>
      <Laid path="conductor" value={conductor} faults={faults} />
    </fieldset>
  );
}
