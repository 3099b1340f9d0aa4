import type { Branch } from '../../../../shared/protocol/circuit.ts';
import { gaugeUnit } from '../parts/units.ts';
import { words } from '../parts/words.ts';
import { Choice, type Faults, Field } from './form.tsx';

interface LaidProps {
  /** Where it stands: `branch`, `conductor`. */
  path: string;
  value: Partial<Branch>;
  faults: Faults;
}

/** How a branch or a feeder lies, for whoever knows it: closed until something of it is given. */
export function Laid({ path, value, faults }: LaidProps) {
  const text = words.shop.laid;
  const { method, insulationCelsius, ambientCelsius, groupedCircuits, terminalsCelsius } = value;
  const given = [method, insulationCelsius, ambientCelsius, groupedCircuits, terminalsCelsius];
  const wrong = [...faults.keys()].some((each) => each.startsWith(`${path}.`));
  return (
    <details open={wrong || given.some((each) => each !== undefined)}>
      <summary>{text.heading}</summary>
      <p class="about">{text.why}</p>
      <div class="row">
        <Choice
          path={`${path}.insulationCelsius`}
          label={text.insulation}
          kind="number"
          value={String(insulationCelsius ?? '')}
          options={[['', words.shop.notKnown], ...insulations()]}
          faults={faults}
        />
        <Ambient path={path} value={ambientCelsius} faults={faults} />
        <Field
          path={`${path}.groupedCircuits`}
          label={text.grouped}
          value={groupedCircuits}
          hint={text.groupedSuch}
          faults={faults}
        />
      </div>
      <div class="row">
        <Choice
          path={`${path}.terminalsCelsius`}
          label={text.terminals}
          kind="number"
          value={String(terminalsCelsius ?? '')}
          options={[
            ['', words.shop.notKnown],
            ['60', '60 °C'],
            ['75', '75 °C'],
          ]}
          faults={faults}
        />
        <Choice
          path={`${path}.method`}
          label={text.method}
          value={method ?? ''}
          options={[['', words.shop.notKnown], ...Object.entries(text.methods)]}
          faults={faults}
        />
      </div>
    </details>
  );
}

/** Those of this device's wire stand first; 90 °C is of both. */
function insulations(): [value: string, text: string][] {
  const american = ['60', '75'].map((each): [string, string] => [each, `${each} °C`]);
  const metric: [string, string] = ['70', '70 °C, PVC'];
  const both: [string, string] = ['90', words.shop.laid.ninety];
  return gaugeUnit() === 'awg' ? [...american, both, metric] : [metric, both, ...american];
}

interface AmbientProps {
  path: string;
  value: number | undefined;
  faults: Faults;
}

/** Air around a wire or a cord. */
export function Ambient({ path, value, faults }: AmbientProps) {
  const { ambient, ambientSuch } = words.shop.laid;
  return (
    <Field
      path={`${path}.ambientCelsius`}
      label={ambient}
      hint={ambientSuch}
      value={value}
      faults={faults}
    />
  );
}
