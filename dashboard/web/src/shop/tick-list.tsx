import { useState } from 'preact/hooks';
import type { Faults } from './form.tsx';
import type { FieldKind } from './form-value.ts';

interface TickListProps {
  /** Of the list in the value: `circuits`, `guns[0].processes`. */
  path: string;
  legend: string;
  kind: FieldKind;
  options: readonly (readonly [value: string, words: string])[];
  initial: readonly string[];
  faults: Faults;
}

/** Some of a few, ticked; each ticked one stands in a hidden field for the form to read. */
export function TickList({ path, legend, kind, options, initial, faults }: TickListProps) {
  const [on, setOn] = useState(() => new Set(initial));
  const turn = (value: string, ticked: boolean) => {
    const next = new Set(on);
    if (ticked) next.add(value);
    else next.delete(value);
    setOn(next);
  };
  const ticked = options.filter(([value]) => on.has(value));
  const faultOf = (value: string) =>
    faults.get(`${path}[${ticked.findIndex(([each]) => each === value)}]`);
  const whole = faults.get(path);
  return (
    <fieldset class="rows ticks" data-list={path}>
      <legend>{legend}</legend>
      {options.map(([value, words]) => (
        <label class="tick" key={value}>
          <input
            type="checkbox"
            checked={on.has(value)}
            aria-invalid={faultOf(value) !== undefined}
            // Not onChange: what hears the input above draws anew before that comes.
            onInput={(event) => turn(value, event.currentTarget.checked)}
          />
          <span>
            {words}
            {faultOf(value) && <strong class="field-fault">{faultOf(value)}</strong>}
          </span>
        </label>
      ))}
      {ticked.map(([value], at) => (
        <input key={value} type="hidden" name={`${path}[${at}]`} data-kind={kind} value={value} />
      ))}
      {whole && <strong class="field-fault">{whole}</strong>}
    </fieldset>
  );
}
