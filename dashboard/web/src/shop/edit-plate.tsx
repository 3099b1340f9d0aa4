import { useEffect, useState } from 'preact/hooks';
import type { Plate } from '../../../../shared/protocol/plate.ts';
import { savePlate, storedPlates } from '../parts/api.ts';
import { Choice, Editor, type Faults, Field, Rows } from './form.tsx';

/** A machine's rating plate, in the plate's own letters. */
export function EditPlate({ id }: { id: number | null }) {
  const [plate, setPlate] = useState<Partial<Plate> | null>(id === null ? {} : null);
  const [version, setVersion] = useState(0);
  const [fault, setFault] = useState('');
  useEffect(() => {
    if (id === null) return;
    storedPlates().then(
      (all) => {
        const found = all.find((each) => each.id === id);
        setVersion(found?.version ?? 0);
        if (found) setPlate(found.plate);
        else setFault('There is no such plate.');
      },
      (error: Error) => setFault(error.message),
    );
  }, [id]);
  if (!plate) return <main class="empty">{fault || 'Fetching the plate …'}</main>;
  return (
    <Editor
      title={plate.name ?? 'A new plate'}
      save={(value) => savePlate(id === null ? null : { id, version }, value as Plate)}
    >
      {(faults) => <PlateFields plate={plate} faults={faults} />}
    </Editor>
  );
}

interface FieldsProps {
  plate: Partial<Plate>;
  faults: Faults;
}

function PlateFields({ plate, faults }: FieldsProps) {
  return (
    <>
      <p>
        Copy what the plate on the machine says. What the plate does not say, leave empty; nothing
        is guessed.
      </p>
      <Field path="name" label="Machine" kind="text" value={plate.name} faults={faults} />
      <Kinds plate={plate} faults={faults} />
      <SupplyRows plate={plate} faults={faults} />
      <OutputRows plate={plate} faults={faults} />
      <Field
        path="wireInches"
        label="Wire diameters, inches"
        kind="numbers"
        value={plate.wireInches?.join(' ')}
        hint="Such as 0.023 0.030 0.035"
        faults={faults}
      />
    </>
  );
}

function Kinds({ plate, faults }: FieldsProps) {
  const pulse = plate.pulse === undefined ? '' : plate.pulse ? 'yes' : 'no';
  return (
    <div class="row">
      <Choice
        path="phases"
        label="Supply phases"
        kind="number"
        value={String(plate.phases ?? 1)}
        options={[
          ['1', '1~ single phase'],
          ['3', '3~ three phase'],
        ]}
        faults={faults}
      />
      <Choice
        path="hertz"
        label="Hertz"
        kind="numbers"
        value={plate.hertz?.join(' ') ?? ''}
        options={[
          ['', 'not said'],
          ['50', '50'],
          ['60', '60'],
          ['50 60', '50 / 60'],
        ]}
        faults={faults}
      />
      <Choice
        path="pulse"
        label="Pulse"
        kind="flag"
        value={pulse}
        options={[
          ['', 'not said'],
          ['yes', 'yes'],
          ['no', 'no'],
        ]}
        faults={faults}
      />
    </div>
  );
}

function SupplyRows({ plate, faults }: FieldsProps) {
  return (
    <Rows
      legend="Supply"
      add="Another supply voltage"
      remove="Take away"
      initial={plate.supply ?? [{ U1: undefined as never, I1max: undefined as never }]}
      most={8}
      row={(line, at) => (
        <>
          <Field path={`supply[${at}].U1`} label="U₁, V" value={line.U1} faults={faults} />
          <Field path={`supply[${at}].I1max`} label="I₁max, A" value={line.I1max} faults={faults} />
          <Field path={`supply[${at}].I1eff`} label="I₁eff, A" value={line.I1eff} faults={faults} />
        </>
      )}
    />
  );
}

function OutputRows({ plate, faults }: FieldsProps) {
  return (
    <Rows
      legend="Output"
      add="Another duty"
      remove="Take away"
      initial={plate.ratings ?? []}
      most={16}
      row={(line, at) => (
        <>
          <Field
            path={`ratings[${at}].X`}
            label="X, %"
            kind="percent"
            value={line.X === undefined ? '' : Number((line.X * 100).toPrecision(6))}
            faults={faults}
          />
          <Field path={`ratings[${at}].I2`} label="I₂, A" value={line.I2} faults={faults} />
          <Field path={`ratings[${at}].U2`} label="U₂, V" value={line.U2} faults={faults} />
        </>
      )}
    />
  );
}
