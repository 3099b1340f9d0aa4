interface PickProps<Value extends string | number> {
  label: string;
  value: Value;
  options: readonly (readonly [value: Value, words: string])[];
  hint?: string;
  onPick(value: NoInfer<Value>): void;
}

/** One of a list, with what it means under it. */
export function Pick<Value extends string | number>(props: PickProps<Value>) {
  const { label, value, options, hint, onPick } = props;
  return (
    <label class="field">
      {label}
      <select
        value={value}
        onChange={(event) => onPick(options[event.currentTarget.selectedIndex]![0])}
      >
        {options.map(([each, words]) => (
          <option key={each} value={each}>
            {words}
          </option>
        ))}
      </select>
      {hint && <small>{hint}</small>}
    </label>
  );
}
