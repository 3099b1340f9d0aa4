import type { ComponentChildren } from 'preact';
import type { StoredCircuit, StoredPlate } from '../../../../shared/protocol/http.ts';
import { Pick } from '../parts/pick.tsx';
import { Typed } from '../parts/typed.tsx';
import { words } from '../parts/words.ts';
import { YourName } from '../people/your-name.tsx';
import { CordFields, type CordText } from './cord-fields.tsx';

/** What a check may be made of. */
export interface Stock {
  circuits: StoredCircuit[];
  plates: StoredPlate[];
}

/** What a check is of, live or recorded, as it stands in its form. */
export interface Subject {
  circuit: number;
  plate: number;
  cord: CordText;
  place: string;
}

interface SubjectProps {
  stock: Stock;
  value: Subject;
  onChange(value: Subject): void;
  /** What is asked about the cord beyond its size. */
  children?: ComponentChildren;
}

/** Circuit, machine, cord, place and name, which both ways to a check ask for. */
export function SubjectFields({ stock, value, onChange, children }: SubjectProps) {
  return (
    <>
      <Pick
        label={words.check.circuit}
        value={value.circuit}
        onPick={(circuit) => onChange({ ...value, circuit })}
        options={stock.circuits.map(({ id, circuit }) => [id, circuit.name])}
      />
      <Pick
        label={words.check.machine}
        value={value.plate}
        onPick={(plate) => onChange({ ...value, plate })}
        options={stock.plates.map(({ id, plate }) => [id, plate.name])}
      />
      <CordFields value={value.cord} onChange={(cord) => onChange({ ...value, cord })} />
      {children}
      <Typed
        label={words.check.place}
        value={value.place}
        onTyped={(place) => onChange({ ...value, place })}
      />
      <YourName />
    </>
  );
}
