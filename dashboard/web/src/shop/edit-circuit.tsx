import { useEffect, useState } from 'preact/hooks';
import type { Circuit } from '../../../../shared/protocol/circuit.ts';
import { saveCircuit, storedCircuits } from '../parts/api.ts';
import { Conductor } from './conductor.tsx';
import { Choice, Editor, type Faults, Field, Rows } from './form.tsx';

/** A circuit: breaker, branch, receptacle, and the cords that are plugged in after it. */
export function EditCircuit({ id }: { id: number | null }) {
  const [circuit, setCircuit] = useState<Partial<Circuit> | null>(id === null ? {} : null);
  const [version, setVersion] = useState(0);
  const [fault, setFault] = useState('');
  useEffect(() => {
    if (id === null) return;
    storedCircuits().then(
      (all) => {
        const found = all.find((each) => each.id === id);
        setVersion(found?.version ?? 0);
        if (found) setCircuit(found.circuit);
        else setFault('There is no such circuit.');
      },
      (error: Error) => setFault(error.message),
    );
  }, [id]);
  if (!circuit) return <main class="empty">{fault || 'Fetching the circuit …'}</main>;
  return (
    <Editor
      title={circuit.name ?? 'A new circuit'}
      save={(value) => saveCircuit(id === null ? null : { id, version }, value as Circuit)}
    >
      {(faults) => <CircuitFields circuit={circuit} faults={faults} />}
    </Editor>
  );
}

const yesNo = [
  ['', 'not known'],
  ['yes', 'yes, nothing else on it'],
  ['no', 'no, shared'],
] as const;

function CircuitFields({ circuit, faults }: { circuit: Partial<Circuit>; faults: Faults }) {
  const dedicated = circuit.dedicated === undefined ? '' : circuit.dedicated ? 'yes' : 'no';
  return (
    <>
      <p>Describe what is there. What nobody knows, leave empty; nothing is guessed.</p>
      <Field path="name" label="Circuit" kind="text" value={circuit.name} faults={faults} />
      <div class="row">
        <Field path="volts" label="Nominal volts" value={circuit.volts} faults={faults} />
        <Choice
          path="phases"
          label="Phases"
          kind="number"
          value={String(circuit.phases ?? '')}
          options={[
            ['', 'not known'],
            ['1', '1~'],
            ['3', '3~'],
          ]}
          faults={faults}
        />
        <Choice
          path="hertz"
          label="Hertz"
          kind="number"
          value={String(circuit.hertz ?? '')}
          options={[
            ['', 'not known'],
            ['50', '50'],
            ['60', '60'],
          ]}
          faults={faults}
        />
      </div>
      <div class="row">
        <Field path="breakerAmps" label="Breaker, A" value={circuit.breakerAmps} faults={faults} />
        <Field
          path="receptacleAmps"
          label="Receptacle, A"
          value={circuit.receptacleAmps}
          faults={faults}
        />
        <Choice
          path="dedicated"
          label="Dedicated"
          kind="flag"
          value={dedicated}
          options={yesNo}
          faults={faults}
        />
      </div>
      <Wires circuit={circuit} faults={faults} />
    </>
  );
}

function Wires({ circuit, faults }: { circuit: Partial<Circuit>; faults: Faults }) {
  return (
    <>
      <fieldset class="rows">
        <legend>Branch: from the panel to the receptacle</legend>
        <div class="row">
          <Conductor path="branch" value={circuit.branch ?? {}} faults={faults} />
          <Choice
            path="branch.metal"
            label="Metal"
            value={circuit.branch?.metal ?? ''}
            options={[
              ['', 'not known'],
              ['copper', 'copper'],
              ['aluminium', 'aluminium'],
            ]}
            faults={faults}
          />
        </div>
      </fieldset>
      <Rows
        legend="Cords plugged in after it"
        add="Another cord"
        remove="Take away"
        initial={circuit.cords ?? []}
        most={8}
        row={(cord, at) => <Conductor path={`cords[${at}]`} value={cord} faults={faults} />}
      />
      <Choice
        path="sensorAt"
        label="The sensor measures"
        value={circuit.sensorAt ?? ''}
        options={[
          ['', 'where the sensor says'],
          ['outlet', 'at the outlet, before the cords'],
          ['machine', 'at the machine, after the cords'],
        ]}
        faults={faults}
      />
    </>
  );
}
