import { words } from '../parts/words.ts';
import { Choice, type Faults } from './form.tsx';

interface ChoiceOf<Value> {
  path: string;
  value: Value | undefined;
  faults: Faults;
}

/** Phases of a circuit or a feeder. */
export function PhasesChoice({ path, value, faults }: ChoiceOf<number>) {
  return (
    <Choice
      {...{ path, faults }}
      label={words.shop.phases}
      kind="number"
      value={String(value ?? '')}
      options={[
        ['', words.shop.notKnown],
        ['1', '1~'],
        ['3', '3~'],
      ]}
    />
  );
}

export function MetalChoice({ path, value, faults }: ChoiceOf<string>) {
  return (
    <Choice
      {...{ path, faults }}
      label={words.shop.metal}
      value={value ?? ''}
      options={[
        ['', words.shop.notKnown],
        ['copper', words.shop.copper],
        ['aluminium', words.shop.aluminium],
      ]}
    />
  );
}

/** Of a machine, or of one of its guns. */
export function PulseChoice({ path, value, faults }: ChoiceOf<boolean>) {
  return (
    <Choice
      {...{ path, faults }}
      label={words.shop.plate.pulse}
      kind="flag"
      value={value === undefined ? '' : value ? 'yes' : 'no'}
      options={[
        ['', words.shop.notSaid],
        ['yes', words.shop.plate.yes],
        ['no', words.shop.plate.no],
      ]}
    />
  );
}
