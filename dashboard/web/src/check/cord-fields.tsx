import type { Cord } from '../../../../shared/protocol/circuit.ts';
import { gaugeChoices, gaugeOfChoice, lengthUnit } from '../parts/units.ts';
import { words } from '../parts/words.ts';

/** Cords that are sold and used at welders, thin to thick. */
export const awgSizes = [18, 16, 14, 12, 10, 8, 6, 4, 2] as const;
export const mm2Sizes = [1, 1.5, 2.5, 4, 6, 10, 16, 25] as const;

/** What the fields hold, as they are typed. */
export interface CordText {
  /** "awg 12", "mm2 2.5"; empty: no cord. */
  gauge: string;
  length: string;
  unit: 'feet' | 'metres';
}

export function textOf(cord: Cord | undefined): CordText {
  if (!cord) return { gauge: '', length: '', unit: lengthUnit() };
  const unit = cord.metres === undefined ? 'feet' : 'metres';
  const gauge = cord.awg === undefined ? `mm2 ${cord.mm2}` : `awg ${cord.awg}`;
  return { gauge, length: String(cord.feet ?? cord.metres ?? ''), unit };
}

/** What is typed, as a list of cords; the server says what is wrong with it. */
export function cordsOf({ gauge, length, unit }: CordText): Cord[] {
  if (gauge === '') return [];
  const [key = '', size = ''] = gauge.split(' ');
  const thick = { [key]: size.includes('/') ? size : Number(size) };
  const long = length.trim() === '' ? {} : { [unit]: Number(length.replace(',', '.')) };
  return [{ ...thick, ...long }];
}

interface CordFieldsProps {
  value: CordText;
  onChange(value: CordText): void;
}

export function CordFields({ value, onChange }: CordFieldsProps) {
  const text = words.check.cord;
  const listed = gaugeChoices(awgSizes, mm2Sizes);
  const other = value.gauge !== '' && !listed.some(([gauge]) => gauge === value.gauge);
  return (
    <fieldset class="rows cord-fields">
      <legend>{text.legend}</legend>
      <label class="field">
        {text.thickness}
        <select
          value={value.gauge}
          onChange={(event) => onChange({ ...value, gauge: event.currentTarget.value })}
        >
          <option value="">{text.none}</option>
          {listed.map(([gauge, size]) => (
            <option key={gauge} value={gauge}>
              {size}
            </option>
          ))}
          {other && <option value={value.gauge}>{gaugeOfChoice(value.gauge)}</option>}
        </select>
      </label>
      {value.gauge !== '' && (
        <div class="length">
          <label class="field">
            {text.length}
            <input
              inputMode="decimal"
              required
              value={value.length}
              onInput={(event) => onChange({ ...value, length: event.currentTarget.value })}
            />
          </label>
          <label class="field">
            <span class="unseen">{text.unit}</span>
            <select
              value={value.unit}
              onChange={(event) =>
                onChange({ ...value, unit: event.currentTarget.value as CordText['unit'] })
              }
            >
              <option value="feet">{text.feet}</option>
              <option value="metres">{text.metres}</option>
            </select>
          </label>
        </div>
      )}
    </fieldset>
  );
}
