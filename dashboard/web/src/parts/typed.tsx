interface TypedProps {
  label: string;
  value: string;
  onTyped(text: string): void;
  /** Characters at the most. */
  most?: number;
}

/** A text that must not be left out. */
export function Typed({ label, value, onTyped, most = 80 }: TypedProps) {
  return (
    <label class="field">
      {label}
      <input
        required
        maxLength={most}
        value={value}
        onInput={(event) => onTyped(event.currentTarget.value)}
      />
    </label>
  );
}
