import type { Gun, Plate } from '../../../../shared/protocol/plate.ts';
import type { Process } from '../../../../shared/protocol/processes.ts';
import { words } from '../parts/words.ts';
import { PulseChoice } from './choices.tsx';
import { type Faults, Field, Rows } from './form.tsx';
import { TickList } from './tick-list.tsx';
import { Wires } from './wires.tsx';

interface GunsProps {
  plate: Partial<Plate>;
  faults: Faults;
}

/** What the machine is set up for, and where several guns stay on it what each of them is for. */
export function Guns({ plate, faults }: GunsProps) {
  return (
    <>
      <Processes path="processes" initial={plate.processes} faults={faults} />
      <Rows
        legend={words.guns.heading}
        add={words.guns.more}
        initial={plate.guns ?? []}
        most={8}
        row={(gun, at) => <GunFields path={`guns[${at}]`} gun={gun} faults={faults} />}
      />
      <p>{words.guns.rest}</p>
    </>
  );
}

interface ProcessesProps {
  path: string;
  initial: readonly Process[] | undefined;
  faults: Faults;
}

function Processes({ path, initial = [], faults }: ProcessesProps) {
  const options = Object.entries(words.parts.processes);
  return (
    <TickList {...{ path, options, initial, faults }} legend={words.guns.processes} kind="text" />
  );
}

interface GunProps {
  path: string;
  gun: Partial<Gun>;
  faults: Faults;
}

function GunFields({ path, gun, faults }: GunProps) {
  return (
    <>
      <Field
        path={`${path}.name`}
        label={words.guns.name}
        kind="text"
        value={gun.name}
        faults={faults}
      />
      <Wires path={`${path}.wireInches`} value={gun.wireInches} faults={faults} />
      <PulseChoice path={`${path}.pulse`} value={gun.pulse} faults={faults} />
      <Processes path={`${path}.processes`} initial={gun.processes} faults={faults} />
    </>
  );
}
