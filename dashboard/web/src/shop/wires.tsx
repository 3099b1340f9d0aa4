import { type WireUnit, wireCalled, wireTyped } from '../../../../shared/protocol/wire-size.ts';
import { plain } from '../parts/format.ts';
import { wireUnit } from '../parts/units.ts';
import { words } from '../parts/words.ts';
import type { Faults } from './form.tsx';
import { numbers } from './form-value.ts';

/** Diameters as they are called in a unit. */
export const wiresText = (inches: readonly number[], unit: WireUnit): string =>
  inches.map((each) => plain(wireCalled(each, unit), 4)).join(' ');

/** What is typed in a unit, in inches; what is no number goes on as it is. */
export const wiresInInches = (text: string, unit: WireUnit, kept: readonly number[]): string =>
  numbers(text)
    .map((each) => (typeof each === 'number' ? wireTyped(each, unit, kept) : each))
    .join(' ');

interface WiresProps {
  path: string;
  value: readonly number[] | undefined;
  faults: Faults;
  hint?: boolean;
}

/** Wire in the unit of this device; a hidden field has it in inches, for the form to read. */
export function Wires({ path, value = [], faults, hint = false }: WiresProps) {
  const unit = wireUnit();
  const text = words.shop.plate;
  const fault = [...faults.keys()].some((each) => each.startsWith(path));
  return (
    <div class="wires">
      <label class="field">
        {text.wires(unit)}
        <input
          defaultValue={wiresText(value, unit)}
          autoComplete="off"
          aria-invalid={fault}
          onInput={({ currentTarget }) => {
            const kept = currentTarget.closest('.wires')?.querySelector('[data-kind]');
            const inches = wiresInInches(currentTarget.value, unit, value);
            if (kept instanceof HTMLInputElement) kept.value = inches;
          }}
        />
        {hint && <small>{text.wiresSuch(unit)}</small>}
        {fault && <strong class="field-fault">{text.wiresWrong(unit)}</strong>}
      </label>
      <input type="hidden" name={path} data-kind="numbers" defaultValue={value.join(' ')} />
    </div>
  );
}
