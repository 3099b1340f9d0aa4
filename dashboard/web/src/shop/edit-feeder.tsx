import { useEffect, useState } from 'preact/hooks';
import type { FeederLoad, KeptFeeder } from '../../../../shared/protocol/feeder.ts';
import type { StoredCircuit } from '../../../../shared/protocol/http.ts';
import { everyCircuit } from '../parts/api.ts';
import { words } from '../parts/words.ts';
import { Load } from '../plan/plan-feeders.tsx';
import { MetalChoice, PhasesChoice } from './choices.tsx';
import { Conductor } from './conductor.tsx';
import { everyFeeder, feederLoads, removeFeeder, saveFeeder } from './feeder-api.ts';
import { Editor, type Faults, Field } from './form.tsx';
import { TickList } from './tick-list.tsx';

interface Known {
  /** Empty for a new one. */
  feeder: Partial<KeptFeeder>;
  circuits: StoredCircuit[];
  load: FeederLoad | undefined;
}

/** What carries several circuits, with what the rules find of it as the machines hang now. */
export function EditFeeder({ id }: { id: number | null }) {
  const [known, setKnown] = useState<Known | null>(null);
  const [fault, setFault] = useState('');
  useEffect(() => {
    knownOf(id).then(setKnown, (error: Error) => setFault(error.message));
  }, [id]);
  if (!known) return <main class="empty">{fault || words.shop.fetching}</main>;
  const { feeder, circuits, load } = known;
  const save = async (value: object) => {
    await saveFeeder(id, value as KeptFeeder);
    return true;
  };
  return (
    <main class="narrow">
      <p class="back">
        <a href="#/shop">{words.shop.back}</a>
      </p>
      <h1 tabIndex={-1}>{feeder.name ?? words.feeders.newFeeder}</h1>
      <Editor save={save}>{(faults) => <FeederFields {...{ feeder, circuits, faults }} />}</Editor>
      {load && (
        <section class="made">
          <h2>{words.feeders.now}</h2>
          <Load load={load} as="h3" />
          <p>{words.plan.neither}</p>
        </section>
      )}
      {id !== null && <Remove id={id} />}
    </main>
  );
}

async function knownOf(id: number | null): Promise<Known> {
  const [circuits, list, loads] = await Promise.all([everyCircuit(), everyFeeder(), feederLoads()]);
  const found = list.find((each) => each.id === id);
  if (id !== null && !found) throw new Error(words.shop.noneSuch);
  const feeder: Partial<KeptFeeder> = found?.feeder ?? {};
  return { feeder, circuits, load: loads.find((each) => each.feeder === feeder.name) };
}

interface FieldsProps {
  feeder: Partial<KeptFeeder>;
  circuits: readonly StoredCircuit[];
  faults: Faults;
}

function FeederFields({ feeder, circuits, faults }: FieldsProps) {
  const { name, volts, phases, breakerAmps, atOnce } = feeder;
  const offered = circuits
    .filter(({ retired }) => !retired)
    .map(({ id, circuit }) => [String(id), circuit.name] as const);
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
    </fieldset>
  );
}

/** A feeder has no versions to bring it back from: it asks before it goes. */
function Remove({ id }: { id: number }) {
  const [asked, setAsked] = useState(false);
  const [fault, setFault] = useState('');
  const remove = async () => {
    try {
      await removeFeeder(id);
      location.hash = '#/shop';
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <section class="versions">
      {!asked && (
        <button type="button" onClick={() => setAsked(true)}>
          {words.feeders.takeAway}
        </button>
      )}
      {asked && (
        <>
          <p role="status">{words.feeders.sure}</p>
          <p class="actions">
            <button type="button" onClick={() => void remove()}>
              {words.feeders.really}
            </button>
            <button type="button" onClick={() => setAsked(false)}>
              {words.feeders.keep}
            </button>
          </p>
        </>
      )}
      <p class="fault" role="alert">
        {fault}
      </p>
    </section>
  );
}
