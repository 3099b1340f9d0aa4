import { useState } from 'preact/hooks';
import type { Size } from '../../../../shared/protocol/jobs.ts';
import { plain } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import type { Faults } from '../shop/form.tsx';
import { type FieldKind, type FieldText, faultsByPath, formValue } from '../shop/form-value.ts';

interface SizeFieldProps {
  path: string;
  label: string;
  faults: Faults;
  initial?: Size | undefined;
}

const sizeOf = (size: SizeFieldProps['initial']): string => {
  const value = size?.mm ?? size?.inches;
  return value === undefined ? '' : plain(value, 6);
};

/** A length as it is typed, in millimetres or inches; empty: none. */
export function SizeField({ path, label, faults, initial }: SizeFieldProps) {
  const [text, setText] = useState(sizeOf(initial));
  const [unit, setUnit] = useState(initial?.inches === undefined ? 'mm' : 'inches');
  const fault = [...faults].find(([each]) => each === path || each.startsWith(`${path}.`))?.[1];
  return (
    <div class="field size-field">
      <label>
        {label}
        <input
          inputMode="decimal"
          autoComplete="off"
          value={text}
          aria-invalid={fault !== undefined}
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </label>
      <label>
        <span class="unseen">
          {words.jobs.unit}: {label}
        </span>
        <select value={unit} onChange={(event) => setUnit(event.currentTarget.value)}>
          <option value="mm">mm</option>
          <option value="inches">in</option>
        </select>
      </label>
      <input
        type="hidden"
        name={`${path}.mm`}
        data-kind="length"
        value={`${unit} ${text.trim()}`}
      />
      {fault && <strong class="field-fault">{fault}</strong>}
    </div>
  );
}

interface PassFailProps {
  path: string;
  label: string;
  initial?: boolean | undefined;
  faults: Faults;
  yes?: string;
  no?: string;
}

/** Two large answers; none is chosen for the person. */
export function PassFail(props: PassFailProps) {
  const { path, label, initial, faults, yes = words.jobs.pass, no = words.jobs.fail } = props;
  const fault = faults.get(path);
  return (
    <fieldset class="choices pass-fail">
      <legend>{label}</legend>
      {([true, false] as const).map((answer) => (
        <label key={String(answer)}>
          <input
            type="radio"
            name={path}
            data-kind="flag"
            value={answer ? 'yes' : 'no'}
            defaultChecked={initial === answer}
          />
          <span>{answer ? yes : no}</span>
        </label>
      ))}
      {fault && <strong class="field-fault">{fault}</strong>}
    </fieldset>
  );
}

/** What a form's fields say; of two answers the one that was chosen. */
export function formTree(form: HTMLFormElement): Record<string, unknown> {
  const all = [...form.querySelectorAll<HTMLInputElement | HTMLSelectElement>('[data-kind]')];
  const said = all.filter((field) => field.type !== 'radio' || (field as HTMLInputElement).checked);
  const texts: FieldText[] = said.map((field) => ({
    path: field.name,
    kind: field.dataset.kind as FieldKind,
    text: field.value,
  }));
  return formValue(texts);
}

/** What the server refused, by path, and what of it no field shows. */
export function useFaults(): [Faults, (error: unknown) => void, () => void] {
  const [faults, setFaults] = useState<Faults>(new Map());
  return [
    faults,
    (error) => setFaults(faultsByPath((error as Error).message)),
    () => setFaults(new Map()),
  ];
}

export function FaultLine({ faults }: { faults: Faults }) {
  return (
    <p class="fault" role="alert">
      {faults.size > 0 && `${words.jobs.notSaved} `}
      {[...faults].map(([path, says]) => `${path} ${says}`.trim()).join('; ')}
    </p>
  );
}
