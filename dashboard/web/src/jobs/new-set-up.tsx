import type { SetUpSheet } from '../../../../shared/protocol/jobs.ts';
import { ordered } from '../live/floor-state.ts';
import { words } from '../parts/words.ts';
import { YourName } from '../people/your-name.tsx';
import { Choice, type Faults, Field } from '../shop/form.tsx';
import { FaultLine, formTree, SizeField, useFaults } from './fields.tsx';
import { beginSetUp } from './job-api.ts';

/** What is to be welded and by which procedure: typed in by the shop, nothing is guessed. */
export function NewSetUp({ job }: { job: number }) {
  const [faults, refuse] = useFaults();
  const begin = async (event: SubmitEvent) => {
    event.preventDefault();
    const { sensor, ...sheet } = formTree(event.currentTarget as HTMLFormElement);
    const wish = { sensor: String(sensor ?? ''), sheet: sheet as SetUpSheet };
    try {
      const setUp = await beginSetUp(job, { ...wish, sheet: { ...wish.sheet } });
      location.hash = `#/set-up/${setUp.id}`;
    } catch (error) {
      refuse(error);
    }
  };
  // The server names places from the request's root, the form from the sheet's.
  const own = new Map([...faults].map(([path, says]) => [path.replace(/^sheet\./, ''), says]));
  const sensors = ordered.value.map(({ sensor: { value } }) => value);
  return (
    <main class="narrow jobs">
      <p class="back">
        <a href={`#/job/${job}`}>← {words.jobs.back}</a>
      </p>
      <h1 tabIndex={-1}>{words.jobs.newSetUp}</h1>
      <form class="editor" onSubmit={begin} noValidate>
        <Choice
          path="sensor"
          label={words.jobs.sensor}
          value={sensors[0]?.id ?? ''}
          options={sensors.map(({ id, name, plate }) => [
            id,
            words.jobs.at(name, plate?.plate.name ?? null),
          ])}
          faults={own}
        />
        <Work faults={own} />
        <Procedure faults={own} />
        <YourName />
        <FaultLine faults={own} />
        <button type="submit" class="wide main big">
          {words.jobs.beginSetUp}
        </button>
      </form>
    </main>
  );
}

const entries = <K extends string>(of: Record<K, string>) => Object.entries(of) as [K, string][];

function Work({ faults }: { faults: Faults }) {
  const { jobs } = words;
  return (
    <fieldset class="rows">
      <legend>{jobs.work}</legend>
      <Choice
        path="work.process"
        label={jobs.process}
        value="mig-steel"
        options={entries(words.parts.processes)}
        faults={faults}
      />
      {[0, 1].map((at) => (
        <div class="row" key={at}>
          <Field
            path={`work.sheets[${at}].metal`}
            label={jobs.sheet(at + 1)}
            kind="text"
            faults={faults}
          />
          <SizeField path={`work.sheets[${at}].thick`} label={jobs.thick(at + 1)} faults={faults} />
        </div>
      ))}
      <div class="row">
        <Choice
          path="work.joint"
          label={jobs.joint}
          value="plug"
          options={entries(jobs.joints)}
          faults={faults}
        />
        <Choice
          path="work.position"
          label={jobs.position}
          value="flat"
          options={entries(jobs.positions)}
          faults={faults}
        />
        <Choice
          path="work.pulse"
          label={jobs.pulse}
          kind="flag"
          value="no"
          options={[
            ['no', jobs.no],
            ['yes', jobs.yes],
          ]}
          faults={faults}
        />
      </div>
      <div class="row">
        <SizeField path="work.wire" label={jobs.wire} faults={faults} />
        <Field path="work.wireKind" label={jobs.wireKind} kind="text" faults={faults} />
        <Field path="work.gas" label={jobs.gas} kind="text" faults={faults} />
      </div>
      <div class="row">
        <Field path="work.leastWeldAmps" label={jobs.leastWeldAmps} faults={faults} />
        <Field
          path="work.leastOutput"
          label={jobs.leastOutput}
          kind="percent"
          hint={jobs.leastOutputHint}
          faults={faults}
        />
      </div>
    </fieldset>
  );
}

function Procedure({ faults }: { faults: Faults }) {
  const { jobs } = words;
  return (
    <fieldset class="rows">
      <legend>{jobs.procedure}</legend>
      <p class="about">{jobs.procedureHint}</p>
      <Field path="procedure.reference" label={jobs.reference} kind="text" faults={faults} />
      <div class="row">
        {(['leastButton', 'leastSize', 'mostUndercut', 'mostPore'] as const).map((key) => (
          <SizeField key={key} path={`procedure.${key}`} label={jobs[key]} faults={faults} />
        ))}
        <Field path="procedure.machineVolts" label={jobs.machineVolts} faults={faults} />
      </div>
    </fieldset>
  );
}
