import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Refusal } from '../parts/api.ts';
import { plain } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { type FieldKind, type FieldText, faultsByPath, formValue } from './form-value.ts';

export type Faults = ReadonlyMap<string, string>;

interface FieldProps {
  path: string;
  label: string;
  kind?: FieldKind;
  value?: string | number | null | undefined;
  hint?: string;
  faults: Faults;
}

/** A text field that knows its place in the value and shows what the server says of it. */
export function Field({ path, label, kind = 'number', value, hint, faults }: FieldProps) {
  const fault = faults.get(path);
  return (
    <label class="field">
      {label}
      <input
        name={path}
        data-kind={kind}
        defaultValue={typeof value === 'number' ? plain(value, 6) : (value ?? '')}
        inputMode={kind === 'text' || kind === 'numbers' ? 'text' : 'decimal'}
        autoComplete="off"
        aria-invalid={fault !== undefined}
      />
      {hint && <small>{hint}</small>}
      {fault && <strong class="field-fault">{fault}</strong>}
    </label>
  );
}

interface ChoiceProps {
  path: string;
  label: string;
  kind?: FieldKind;
  value: string;
  options: readonly (readonly [value: string, words: string])[];
  faults: Faults;
  /** Other paths whose faults belong here, such as both units of a length. */
  also?: readonly string[];
}

export function Choice(props: ChoiceProps) {
  const { path, label, kind = 'text', value, options, faults, also = [] } = props;
  const fault = [path, ...also].map((each) => faults.get(each)).find((each) => each);
  return (
    <label class="field">
      {label}
      <select name={path} data-kind={kind} aria-invalid={fault !== undefined}>
        {options.map(([each, words]) => (
          <option key={each} value={each} selected={each === value}>
            {words}
          </option>
        ))}
      </select>
      {fault && <strong class="field-fault">{fault}</strong>}
    </label>
  );
}

interface RowsProps<T> {
  legend: string;
  add: string;
  initial: readonly T[];
  most: number;
  row(value: Partial<T>, index: number): ComponentChildren;
}

/** Lines of like fields that can be added and taken away. */
export function Rows<T>({ legend, add, initial, most, row }: RowsProps<T>) {
  const [rows, setRows] = useState(() => initial.map((value, key) => ({ key, value })));
  const [next, setNext] = useState(initial.length);
  const more = () => {
    setRows([...rows, { key: next, value: {} as T }]);
    setNext(next + 1);
  };
  return (
    <fieldset class="rows">
      <legend>{legend}</legend>
      {rows.map(({ key, value }, index) => (
        <div class="row" key={key}>
          {row(value, index)}
          <button type="button" onClick={() => setRows(rows.filter((each) => each.key !== key))}>
            {words.shop.takeAway}
            <span class="unseen"> {index + 1}</span>
          </button>
        </div>
      ))}
      {rows.length < most && (
        <button type="button" onClick={more}>
          {add}
        </button>
      )}
    </fieldset>
  );
}

interface EditorProps {
  /** False: it was not saved, and what to do about it is shown elsewhere. */
  save(value: object): Promise<boolean>;
  children(faults: Faults): ComponentChildren;
}

/** A form of one thing: saves it, or shows by each field why it was not. */
export function Editor({ save, children }: EditorProps) {
  const [faults, setFaults] = useState<Faults>(new Map());
  const onSubmit = async (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    try {
      setFaults(new Map());
      if (await save(formValue(fieldTexts(form)))) location.hash = '#/shop';
    } catch (error) {
      setFaults(faultsByPath((error as Refusal).message));
      setTimeout(() => form.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus(), 0);
    }
  };
  const lost = [...faults].filter(([path]) => path === '' || !known(path));
  return (
    <form class="editor" onSubmit={onSubmit} noValidate>
      {children(faults)}
      <p class="fault" role="alert">
        {faults.size > 0 && words.shop.notSaved}
        {lost.map(([path, says]) => `${path} ${says}`).join('; ')}
      </p>
      <p class="actions">
        <button type="submit" class="main">
          {words.shop.save}
        </button>
        <a class="button" href="#/shop">
          {words.shop.leave}
        </a>
      </p>
    </form>
  );
}

/** True where a field of the form shows the fault itself. */
const known = (path: string) =>
  document.querySelector(`.editor [name="${CSS.escape(path)}"]`) !== null ||
  /(awg|mm2|kcmil|feet|metres|wireInches(\[\d+\])?)$/.test(path);

function fieldTexts(form: HTMLFormElement): FieldText[] {
  return [...form.querySelectorAll<HTMLInputElement | HTMLSelectElement>('[data-kind]')].map(
    (field) => ({
      path: field.name,
      kind: field.dataset.kind as FieldKind,
      text: field.value,
    }),
  );
}
