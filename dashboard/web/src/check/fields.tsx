interface PickProps {
  label: string;
  value: number;
  onPick(id: number): void;
  children: (readonly [id: number, name: string])[];
}

export function Pick({ label, value, onPick, children }: PickProps) {
  return (
    <label class="field">
      {label}
      <select value={value} onChange={(event) => onPick(Number(event.currentTarget.value))}>
        {children.map(([id, name]) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}

export function Typed(props: { label: string; value: string; onTyped(text: string): void }) {
  return (
    <label class="field">
      {props.label}
      <input
        required
        maxLength={80}
        value={props.value}
        onInput={(event) => props.onTyped(event.currentTarget.value)}
      />
    </label>
  );
}
