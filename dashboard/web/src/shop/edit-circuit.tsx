import type { Circuit } from '../../../../shared/protocol/circuit.ts';
import { shopSettings } from '../parts/preferences.ts';
import { words } from '../parts/words.ts';
import { MetalChoice, PhasesChoice } from './choices.tsx';
import { Conductor } from './conductor.tsx';
import { EditStock } from './edit-stock.tsx';
import { Choice, type Faults, Field, Rows } from './form.tsx';
import { kept } from './kept.ts';
import { Ambient, Laid } from './laid.tsx';
import type { Stock } from './stock.ts';

/** A circuit: breaker, branch, receptacle, and the cords that are plugged in after it. */
export function EditCircuit({ id }: { id: number | null }) {
  const { hertz } = shopSettings.value;
  const stock: Stock<Circuit> = {
    newTitle: words.shop.newCircuit,
    ...kept('circuit'),
    blank: hertz === null ? {} : { hertz },
    fields: (circuit, faults) => <CircuitFields circuit={circuit} faults={faults} />,
  };
  return <EditStock id={id} stock={stock} />;
}

function CircuitFields({ circuit, faults }: { circuit: Partial<Circuit>; faults: Faults }) {
  return (
    <>
      <p>{words.shop.describe}</p>
      <Field
        path="name"
        label={words.shop.circuit}
        kind="text"
        value={circuit.name}
        faults={faults}
      />
      <div class="row">
        <Field path="volts" label={words.shop.volts} value={circuit.volts} faults={faults} />
        <PhasesChoice path="phases" value={circuit.phases} faults={faults} />
        <Choice
          path="hertz"
          label={words.shop.hertz}
          kind="number"
          value={String(circuit.hertz ?? '')}
          options={[
            ['', words.shop.notKnown],
            ['50', '50'],
            ['60', '60'],
          ]}
          faults={faults}
        />
      </div>
      <Protection circuit={circuit} faults={faults} />
      <Wires circuit={circuit} faults={faults} />
    </>
  );
}

const flag = (of: boolean | undefined): string => (of === undefined ? '' : of ? 'yes' : 'no');

/** Breaker and receptacle, and what hangs on them beside the machine. */
function Protection({ circuit, faults }: { circuit: Partial<Circuit>; faults: Faults }) {
  return (
    <>
      <div class="row">
        <Field
          path="breakerAmps"
          label={words.shop.breakerAmps}
          value={circuit.breakerAmps}
          faults={faults}
        />
        <Field
          path="receptacleAmps"
          label={words.shop.receptacle}
          value={circuit.receptacleAmps}
          faults={faults}
        />
        <Choice
          path="dedicated"
          label={words.shop.isDedicated}
          kind="flag"
          value={flag(circuit.dedicated)}
          options={[
            ['', words.shop.notKnown],
            ['yes', words.shop.alone],
            ['no', words.shop.shared],
          ]}
          faults={faults}
        />
      </div>
      <div class="row">
        <Choice
          path="breakerType"
          label={words.shop.breakerType}
          value={circuit.breakerType ?? ''}
          options={[
            ['', words.shop.noBreakerType],
            ['B', 'B'],
            ['C', 'C'],
            ['D', 'D'],
          ]}
          faults={faults}
        />
        <Choice
          path="neutralLoaded"
          label={words.shop.neutralLoaded}
          kind="flag"
          value={flag(circuit.neutralLoaded)}
          options={[
            ['', words.shop.notKnown],
            ['yes', words.shop.neutralYes],
            ['no', words.shop.neutralNo],
          ]}
          faults={faults}
        />
      </div>
    </>
  );
}

function Wires({ circuit, faults }: { circuit: Partial<Circuit>; faults: Faults }) {
  return (
    <>
      <fieldset class="rows">
        <legend>{words.shop.branch}</legend>
        <div class="row">
          <Conductor path="branch" value={circuit.branch ?? {}} faults={faults} />
          <MetalChoice path="branch.metal" value={circuit.branch?.metal} faults={faults} />
        </div>
        <Laid path="branch" value={circuit.branch ?? {}} faults={faults} />
      </fieldset>
      <Rows
        legend={words.shop.cords}
        add={words.shop.moreCords}
        initial={circuit.cords ?? []}
        most={8}
        row={(cord, at) => (
          <>
            <Conductor path={`cords[${at}]`} value={cord} faults={faults} />
            <Ambient path={`cords[${at}]`} value={cord.ambientCelsius} faults={faults} />
          </>
        )}
      />
      <Choice
        path="sensorAt"
        label={words.shop.measures}
        value={circuit.sensorAt ?? ''}
        options={[
          ['', words.shop.asSensor],
          ['outlet', words.shop.atOutlet],
          ['machine', words.shop.atMachine],
        ]}
        faults={faults}
      />
    </>
  );
}
