import type { Plate } from '../../../../shared/protocol/plate.ts';
import { words } from '../parts/words.ts';
import { PulseChoice } from './choices.tsx';
import { EditStock } from './edit-stock.tsx';
import { Choice, type Faults, Field, Rows } from './form.tsx';
import { Guns } from './guns.tsx';
import { kept } from './kept.ts';
import type { Stock } from './stock.ts';
import { Wires } from './wires.tsx';

/** A machine's rating plate, in the plate's own letters. */
export function EditPlate({ id }: { id: number | null }) {
  const stock: Stock<Plate> = {
    newTitle: words.shop.newPlate,
    ...kept('plate'),
    fields: (plate, faults) => <PlateFields plate={plate} faults={faults} />,
  };
  return <EditStock id={id} stock={stock} />;
}

interface FieldsProps {
  plate: Partial<Plate>;
  faults: Faults;
}

function PlateFields({ plate, faults }: FieldsProps) {
  return (
    <>
      <p>{words.shop.copy}</p>
      <Field
        path="name"
        label={words.shop.plate.name}
        kind="text"
        value={plate.name}
        faults={faults}
      />
      <Kinds plate={plate} faults={faults} />
      <SupplyRows plate={plate} faults={faults} />
      <OutputRows plate={plate} faults={faults} />
      <Wires path="wireInches" value={plate.wireInches} faults={faults} hint />
      <Guns plate={plate} faults={faults} />
    </>
  );
}

function Kinds({ plate, faults }: FieldsProps) {
  return (
    <div class="row">
      <Choice
        path="phases"
        label={words.shop.plate.phases}
        kind="number"
        value={String(plate.phases ?? 1)}
        options={[
          ['1', words.shop.plate.one],
          ['3', words.shop.plate.three],
        ]}
        faults={faults}
      />
      <Choice
        path="hertz"
        label={words.shop.hertz}
        kind="numbers"
        value={plate.hertz?.join(' ') ?? ''}
        options={[
          ['', words.shop.notSaid],
          ['50', '50'],
          ['60', '60'],
          ['50 60', '50 / 60'],
        ]}
        faults={faults}
      />
      <PulseChoice path="pulse" value={plate.pulse} faults={faults} />
      <Choice
        path="behaviour"
        label={words.shop.plate.behaviour}
        value={plate.behaviour ?? ''}
        options={[
          ['', words.shop.notKnown],
          ['constant-power', words.shop.plate.holdsOutput],
          ['constant-impedance', words.shop.plate.losesOutput],
        ]}
        faults={faults}
      />
    </div>
  );
}

function SupplyRows({ plate, faults }: FieldsProps) {
  return (
    <Rows
      legend={words.shop.plate.supply}
      add={words.shop.plate.moreSupply}
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
      legend={words.shop.plate.output}
      add={words.shop.plate.moreOutput}
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
