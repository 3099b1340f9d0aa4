import type { Cord } from '../../../../shared/protocol/circuit.ts';
import { plain } from '../parts/format.ts';
import { gaugeChoices, gaugeOfChoice, lengthUnit } from '../parts/units.ts';
import { words } from '../parts/words.ts';
import { Choice, type Faults } from './form.tsx';

const awg = [
  '18',
  '16',
  '14',
  '12',
  '10',
  '8',
  '6',
  '4',
  '3',
  '2',
  '1',
  '1/0',
  '2/0',
  '3/0',
  '4/0',
];
const mm2 = [0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95];
const kcmil = ['250', '300', '350', '400', '500', '600', '750', '1000'];

interface ConductorProps {
  /** Where it stands: `branch`, `cords[0]`. */
  path: string;
  value: Partial<Cord> & { kcmil?: number | undefined };
  faults: Faults;
  /** Sizes over 4/0 too, which only feeders have. */
  large?: boolean;
}

/** Thickness and length of a branch or a cord, in the units that its drum or its paper says. */
export function Conductor({ path, value, faults, large = false }: ConductorProps) {
  const gauge =
    value.awg !== undefined
      ? `awg ${value.awg}`
      : value.mm2 !== undefined
        ? `mm2 ${value.mm2}`
        : value.kcmil !== undefined
          ? `kcmil ${value.kcmil}`
          : '';
  const length = value.feet ?? value.metres;
  // What was typed keeps its unit; a new length is in this device's.
  const inMetres = length === undefined ? lengthUnit() === 'metres' : value.metres !== undefined;
  const listed = [
    ['', words.shop.notKnown] as const,
    ...gaugeChoices(awg, mm2),
    ...(large ? kcmil : []).map((size) => [`kcmil ${size}`, `${size} kcmil`] as const),
  ];
  const options = listed.some(([each]) => each === gauge)
    ? listed
    : [...listed, [gauge, gaugeOfChoice(gauge)] as const];
  const lengthFault = faults.get(`${path}.feet`) ?? faults.get(`${path}.metres`);
  return (
    <>
      <Choice
        path={`${path}.gauge`}
        label={words.shop.conductor}
        kind="gauge"
        value={gauge}
        options={options}
        faults={faults}
        also={[path, `${path}.awg`, `${path}.mm2`, `${path}.kcmil`]}
      />
      <Length path={path} length={length} inMetres={inMetres} fault={lengthFault} />
    </>
  );
}

interface LengthProps {
  path: string;
  length: number | undefined;
  inMetres: boolean;
  fault: string | undefined;
}

/** A figure and its unit, kept in one hidden field for the form to read. */
function Length({ path, length, inMetres, fault }: LengthProps) {
  const join = (event: { currentTarget: HTMLElement }) => {
    const frame = event.currentTarget.closest('.length');
    const figure = frame?.querySelector('input')?.value.trim() ?? '';
    const unit = frame?.querySelector('select')?.value ?? lengthUnit();
    const whole = frame?.querySelector<HTMLInputElement>('[data-kind]');
    if (whole) whole.value = figure === '' ? '' : `${unit} ${figure}`;
  };
  const unit = inMetres ? 'metres' : 'feet';
  return (
    <div class="length">
      <label class="field">
        {words.shop.length}
        <input
          inputMode="decimal"
          defaultValue={length === undefined ? '' : plain(length, 6)}
          aria-invalid={fault !== undefined}
          onInput={join}
        />
        {fault && <strong class="field-fault">{fault}</strong>}
      </label>
      <label class="field">
        <span class="unseen">{words.shop.unit}</span>
        <select onChange={join}>
          <option value="feet" selected={!inMetres}>
            ft
          </option>
          <option value="metres" selected={inMetres}>
            m
          </option>
        </select>
      </label>
      <input
        type="hidden"
        name={`${path}.length`}
        data-kind="length"
        defaultValue={length === undefined ? '' : `${unit} ${length}`}
      />
    </div>
  );
}
