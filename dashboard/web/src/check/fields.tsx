import type { StoredCircuit, StoredPlate } from '../../../../shared/protocol/http.ts';

/** What a check may be made of. */
export interface Stock {
  circuits: StoredCircuit[];
  plates: StoredPlate[];
}

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
